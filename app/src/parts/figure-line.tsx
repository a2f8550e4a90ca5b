import { useId } from "preact/hooks";
import { readOnly } from "../state/opened.ts";
import { DraftInput } from "./draft-input.tsx";

interface FigureLineProps {
  readonly label: string;
  readonly unit: string;
  /** Undefined: not typed. */
  readonly value: number | undefined;
  readonly least?: number;
  readonly onTake: (value: number) => void;
}

/** A labelled number to type; taken when the input is left. */
export function FigureLine({ label, unit, value, least = 0, onTake }: FigureLineProps) {
  const id = useId();
  return (
    <div>
      <dt>
        <label for={id}>{label}</label>
      </dt>
      <dd>
        <DraftInput
          id={id}
          type="number"
          min={least}
          size={8}
          value={value === undefined ? "" : String(value)}
          disabled={readOnly.value}
          onTake={(text) => {
            const typed = text === "" ? Number.NaN : Number(text);
            const isFit = Number.isFinite(typed) && typed >= least;
            if (isFit && typed !== value) onTake(typed);
            return isFit;
          }}
        />{" "}
        <span class="second">{unit}</span>
      </dd>
    </div>
  );
}
