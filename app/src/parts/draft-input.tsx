import { useId, useRef, useState } from "preact/hooks";
import { type Refusal, typedNumber } from "./take-number.ts";

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

/** What stands in a box of numbers after an arrow key: a step on, not below the least; what is no number stays. */
function stepped(text: string, by: number, { step = 1, min = Number.NEGATIVE_INFINITY }: Look): string {
  const value = text.trim() === "" ? 0 : typedNumber(text);
  return Number.isNaN(value) ? text : String(Number(Math.max(min, value + by * step).toFixed(6)));
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
  const take = (box: HTMLInputElement): void => {
    const why = onTake(box.value);
    setRefused(why === null ? null : { why, of: value });
    if (why === null && isForNext) box.value = value;
    setDraft(why === null ? null : box.value);
  };
  return (
    <>
      <input
        {...(look as object)}
        ref={input}
        type="text"
        inputMode={type === "number" ? "decimal" : "text"}
        value={(refused && !stands ? null : draft) ?? value}
        aria-invalid={stands ? true : undefined}
        aria-describedby={stands ? reason : undefined}
        onInput={(event) => setDraft(event.currentTarget.value)}
        onKeyDown={(event) => {
          if (event.key === "Escape" && stands) putBack();
          const by = type === "number" ? { ArrowUp: 1, ArrowDown: -1 }[event.key] : undefined;
          if (by === undefined) return;
          event.preventDefault();
          event.currentTarget.value = stepped(event.currentTarget.value, by, look);
          take(event.currentTarget);
        }}
        onChange={(event) => take(event.currentTarget)}
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
