import { useState } from "preact/hooks";
import type { Layer } from "#core";
import { typedLimits } from "../state/look.ts";

/** Type other class limits; empty brings the usual ones back. */
export function ClassTable({ layer }: { layer: Layer }) {
  const { limits, hasNone } = layer.classes;
  const shown = (hasNone ? limits.slice(1) : limits).join(" ");
  const [doubt, setDoubt] = useState("");
  const take = (text: string) => {
    const numbers = text
      .split(/[\s,;]+/)
      .filter((word) => word !== "")
      .map(Number);
    if (numbers.length === 0) {
      const { [layer.id]: _, ...rest } = typedLimits.value;
      typedLimits.value = rest;
      return setDoubt("");
    }
    const isRising = numbers.every(
      (value, k) => Number.isFinite(value) && (k === 0 || value > numbers[k - 1]!),
    );
    if (!isRising || numbers.length > 6) return setDoubt("Give at most six rising numbers.");
    setDoubt("");
    typedLimits.value = { ...typedLimits.value, [layer.id]: hasNone ? [limits[0]!, ...numbers] : numbers };
  };
  return (
    <details class="small">
      <summary>Other class limits</summary>
      <label class="small">
        Rising, {layer.unit}
        <input
          type="text"
          key={`${layer.id} ${shown}`}
          value={shown}
          size={18}
          onChange={(event) => take(event.currentTarget.value)}
        />
      </label>
      {doubt !== "" && <p class="flag-text">{doubt}</p>}
    </details>
  );
}
