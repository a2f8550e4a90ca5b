import { useId } from "preact/hooks";
import { readOnly } from "../state/opened.ts";
import { DraftInput } from "./draft-input.tsx";
import { type Refusal, takeNumber, typedNumber } from "./take-number.ts";

interface LineProps {
  readonly label: string;
  readonly unit: string;
  readonly least?: number;
  readonly most?: number;
  readonly step?: number;
  /** Why a figure within the limits cannot be taken; null where it can. */
  readonly doubtOf?: (value: number) => Refusal;
  /** Cannot be typed yet. */
  readonly isOff?: boolean;
}

interface FigureLineProps extends LineProps {
  /** Null where nothing was typed. */
  readonly value: number | null;
  /** Said where nothing was typed: `11, unconfirmed`. */
  readonly otherwise?: string;
  /** An empty input takes the figure out. */
  readonly onTake: (value: number | null) => void;
  /** An empty input is no figure: the one before stays. */
  readonly isNeeded?: boolean;
}

interface NeededLineProps extends LineProps {
  /** Undefined: not typed. */
  readonly value: number | undefined;
  readonly onTake: (value: number) => void;
}

/** One figure that is typed and cannot be taken out, on a line of its own. */
export const NeededLine = ({ value, onTake, ...rest }: NeededLineProps) => (
  <FigureLine
    {...rest}
    value={value ?? null}
    isNeeded={true}
    onTake={(typed) => {
      if (typed !== null) onTake(typed);
    }}
  />
);

/** One figure that may be typed or left out, on a line of its own. */
export function FigureLine(props: FigureLineProps) {
  const {
    label,
    unit,
    value,
    step,
    isOff,
    least = 0,
    most = Number.POSITIVE_INFINITY,
    doubtOf,
    otherwise,
    onTake,
    isNeeded,
  } = props;
  const id = useId();
  return (
    <div class="figure-line">
      <dt>
        <label for={id}>{label}</label>
        {value === null && otherwise && <span class="under">empty: {otherwise}</span>}
      </dt>
      <dd>
        <DraftInput
          id={id}
          type="number"
          min={least}
          {...(step === undefined ? {} : { step })}
          value={value === null ? "" : String(value)}
          disabled={readOnly.value || isOff === true}
          onTake={(text) => {
            if (text.trim() === "" && !isNeeded) {
              if (value !== null) onTake(null);
              return null;
            }
            const doubt = text.trim() === "" ? null : (doubtOf?.(typedNumber(text)) ?? null);
            if (doubt !== null) return doubt;
            return takeNumber(text, { least, most, unit }, (typed) => {
              if (typed !== value) onTake(typed);
            });
          }}
        />
        <span class="unit second">{unit}</span>
      </dd>
    </div>
  );
}

interface PickLineProps {
  readonly label: string;
  readonly value: string;
  readonly options: Options;
  /** Below the others, under words of their own. */
  readonly others?: { readonly words: string; readonly options: Options };
  readonly onChoose: (value: string) => void;
}

type Options = readonly (readonly [value: string, text: string])[];

/** One of several words, on a line of its own. */
export function PickLine({ label, value, options, others, onChoose }: PickLineProps) {
  const id = useId();
  return (
    <div>
      <dt>
        <label for={id}>{label}</label>
      </dt>
      <dd>
        <select
          id={id}
          value={value}
          disabled={readOnly.value}
          onChange={(event) => onChoose(event.currentTarget.value)}
        >
          {options.map(optionOf)}
          {others && others.options.length > 0 && (
            <optgroup label={others.words}>{others.options.map(optionOf)}</optgroup>
          )}
        </select>
      </dd>
    </div>
  );
}

const optionOf = ([option, text]: Options[number]) => (
  <option key={option} value={option}>
    {text}
  </option>
);
