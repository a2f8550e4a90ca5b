import { Choices, type ChoicesProps } from "./choices.tsx";

interface ChoiceLineProps<Value extends string> extends ChoicesProps<Value> {
  readonly label: string;
}

/** A choice with its word before it, on a line of its own. */
export const ChoiceLine = <Value extends string>({ label, ...choices }: ChoiceLineProps<Value>) => (
  <div class="pair">
    <span class="second">{label}</span>
    <Choices {...choices} />
  </div>
);
