import type { Layer } from "#core";
import { DraftInput } from "../parts/draft-input.tsx";
import { Fold } from "../parts/fold.tsx";
import type { Refusal } from "../parts/take-number.ts";
import { typedLimits } from "../state/look.ts";

/** Type other class limits; empty brings the usual ones back. */
export function ClassTable({ layer }: { layer: Layer }) {
  const { limits, hasNone } = layer.classes;
  const shown = (hasNone ? limits.slice(1) : limits).map((limit) => Number(limit.toPrecision(6))).join(" ");
  const take = (text: string): Refusal => {
    const numbers = text
      .split(/[\s,;]+/)
      .filter((word) => word !== "")
      .map(Number);
    if (numbers.length === 0) {
      const { [layer.id]: _, ...rest } = typedLimits.value;
      typedLimits.value = rest;
      return null;
    }
    const isRising = numbers.every(
      (value, k) => Number.isFinite(value) && (k === 0 || value > numbers[k - 1]!),
    );
    if (!isRising || numbers.length > 6) return "Give at most six rising numbers.";
    typedLimits.value = { ...typedLimits.value, [layer.id]: hasNone ? [limits[0]!, ...numbers] : numbers };
    return null;
  };
  return (
    <Fold class="small" title="Other class limits">
      {() => (
        <>
          <p class="small second">Rising, {layer.unit}</p>
          <DraftInput
            key={layer.id}
            type="text"
            aria-label={`Class limits, rising, ${layer.unit}`}
            value={shown}
            size={18}
            onTake={take}
          />
        </>
      )}
    </Fold>
  );
}
