import { useId, useRef, useState } from "preact/hooks";
import type { Refusal } from "./take-number.ts";

interface Look {
  readonly id?: string;
  readonly min?: number;
  readonly step?: number;
  readonly size?: number;
  readonly class?: string;
  readonly disabled?: boolean;
  readonly "aria-label"?: string;
}

interface DraftInputProps extends Look {
  readonly type: "number" | "text";
  readonly value: string;
  /** Called when the input is left or Enter is pressed; a refusal says what is wanted, and what was typed stays. */
  readonly onTake: (text: string) => Refusal;
  /** A taken text is not shown: the next one is typed here. */
  readonly isForNext?: boolean;
}

/**
 * An input that keeps what is being typed to itself until it is left, whatever else changes meanwhile. What is not
 * taken stays as it was typed, with the reason beside it, until it is mended or put back.
 */
export function DraftInput({ type, value, onTake, isForNext = false, ...look }: DraftInputProps) {
  const [draft, setDraft] = useState<string | null>(null);
  const [refused, setRefused] = useState<{ readonly why: string; readonly of: string } | null>(null);
  const input = useRef<HTMLInputElement>(null);
  const reason = useId();
  // Another value has come in its place: what was refused is dealt with.
  const stands = refused?.of === value ? refused : null;
  const putBack = () => {
    setRefused(null);
    setDraft(null);
    if (input.current) input.current.value = value;
  };
  return (
    <>
      <input
        {...(look as object)}
        ref={input}
        type={type as "text"}
        value={(refused && !stands ? null : draft) ?? value}
        aria-invalid={stands ? true : undefined}
        aria-describedby={stands ? reason : undefined}
        onInput={(event) => setDraft(event.currentTarget.value)}
        onKeyDown={(event) => {
          if (event.key === "Escape" && stands) putBack();
        }}
        onChange={(event) => {
          const box = event.currentTarget;
          const why = box.validity.badInput ? "This is not a number." : onTake(box.value);
          setRefused(why === null ? null : { why, of: value });
          if (why !== null) return setDraft(box.value);
          if (isForNext) box.value = value;
          setDraft(null);
        }}
      />
      <span class="not-taken" role="status" id={reason}>
        {stands && (
          <>
            Not taken. {stands.why}{" "}
            <button type="button" class="link" onClick={putBack}>
              {value === "" ? "Clear it" : `Back to ${value}`}
            </button>
          </>
        )}
      </span>
    </>
  );
}
