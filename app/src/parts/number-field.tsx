import { useId } from "preact/hooks";
import { DraftInput } from "./draft-input.tsx";
import { takeNumber } from "./take-number.ts";

interface NumberFieldProps {
  readonly label: string;
  readonly unit: string;
  readonly value: number;
  readonly least: number;
  readonly most: number;
  readonly step: number;
  readonly disabled: boolean;
  /** While a slider moves; `isDone` once it is let go or a typed number is left. */
  readonly onMove: (value: number, isDone: boolean) => void;
  /** Words below the slider's ends. */
  readonly ends?: readonly [string, string];
}

/** A number with a slider: type it, or drag; both do the same. */
export function NumberField(props: NumberFieldProps) {
  const { label, unit, value, least, most, step, disabled, onMove, ends } = props;
  const id = useId();
  return (
    <div class="slider">
      <div class="row">
        <label for={id}>{label}</label>
        <span>
          <DraftInput
            id={id}
            type="number"
            min={least}
            step={step}
            value={String(value)}
            disabled={disabled}
            onTake={(text) =>
              takeNumber(text, { least, most: Number.POSITIVE_INFINITY, unit }, (typed) =>
                onMove(typed, true),
              )
            }
          />{" "}
          <span class="second">{unit}</span>
        </span>
      </div>
      <input
        type="range"
        aria-label={`${label}, slider`}
        min={least}
        max={most}
        step={step}
        value={value}
        disabled={disabled}
        onInput={(event) => onMove(event.currentTarget.valueAsNumber, false)}
        onChange={(event) => onMove(event.currentTarget.valueAsNumber, true)}
      />
      {ends && (
        <div class="ticks" aria-hidden="true">
          <span>{ends[0]}</span>
          <span>{ends[1]}</span>
        </div>
      )}
    </div>
  );
}
