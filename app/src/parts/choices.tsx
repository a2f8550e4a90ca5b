import { useId } from "preact/hooks";

export interface ChoicesProps<Value extends string> {
  /** Said to screen readers; not shown. */
  readonly about: string;
  readonly value: Value;
  readonly options: readonly (readonly [value: Value, text: string])[];
  readonly onChoose: (value: Value) => void;
  readonly disabled?: boolean;
}

/** A row of words, one of them chosen. */
export function Choices<Value extends string>({
  about,
  value,
  options,
  onChoose,
  disabled,
}: ChoicesProps<Value>) {
  const name = useId();
  return (
    <fieldset class="choices" disabled={disabled ?? false}>
      <legend class="unseen">{about}</legend>
      {options.map(([option, text]) => (
        <label key={option}>
          <input
            type="radio"
            name={name}
            value={option}
            checked={option === value}
            onChange={() => onChoose(option)}
          />
          <span>{text}</span>
        </label>
      ))}
    </fieldset>
  );
}
