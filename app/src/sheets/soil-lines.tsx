import { DraftInput } from "../parts/draft-input.tsx";
import { takeNumber } from "../parts/take-number.ts";
import { readOnly } from "../state/opened.ts";

/** A label with what stands against it. */
export const Line = ({ label, children }: { label: string; children: preact.ComponentChildren }) => (
  <div>
    <dt>{label}</dt>
    <dd>{children}</dd>
  </div>
);

interface FigureProps {
  readonly label: string;
  readonly value: number;
  readonly least: number;
  readonly most?: number;
  readonly onTake: (value: number) => void;
}

/** A number typed in a line. */
export const Figure = ({ label, value, least, most = Number.POSITIVE_INFINITY, onTake }: FigureProps) => (
  <Line label={label}>
    <DraftInput
      type="number"
      aria-label={label}
      min={least}
      step={0.1}
      value={String(value)}
      disabled={readOnly.value}
      onTake={(text) =>
        takeNumber(text, least, most, (typed) => {
          if (typed !== value) onTake(typed);
        })
      }
    />
  </Line>
);
