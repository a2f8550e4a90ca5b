import { useState } from "preact/hooks";

interface Look {
  readonly id?: string;
  readonly min?: number;
  readonly step?: number;
  readonly size?: number;
  readonly disabled?: boolean;
  readonly "aria-label"?: string;
}

interface DraftInputProps extends Look {
  readonly type: "number" | "text";
  readonly value: string;
  /** Called when the input is left or Enter is pressed; false puts the old value back. */
  readonly onTake: (text: string) => boolean;
}

/** An input that keeps what is being typed to itself until it is left, whatever else changes meanwhile. */
export function DraftInput({ type, value, onTake, ...look }: DraftInputProps) {
  const [draft, setDraft] = useState<string | null>(null);
  return (
    <input
      {...(look as object)}
      type={type as "text"}
      value={draft ?? value}
      onInput={(event) => setDraft(event.currentTarget.value)}
      onChange={(event) => {
        const input = event.currentTarget;
        if (!onTake(input.value)) input.value = value;
        setDraft(null);
      }}
    />
  );
}
