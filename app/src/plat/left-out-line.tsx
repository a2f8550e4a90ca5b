import { counted } from "#core";
import { field } from "../state/results.ts";

/** Below a soil legend: how samples left out of the map are drawn, and how many there are. */
export function LeftOutLine({ test }: { readonly test: string }) {
  const samples = field.value?.ground.samples ?? [];
  const count = samples.filter(({ off }) => off.some((one) => one === test)).length;
  if (count === 0) return null;
  return (
    <p class="small left-out">
      <svg viewBox="0 0 10 10" width="10" height="10" aria-hidden="true">
        <circle cx="5" cy="5" r="3.7" fill="var(--paper)" stroke="var(--ink)" stroke-width="1.6" />
      </svg>{" "}
      (value): left out, {counted(count, "sample")}
    </p>
  );
}
