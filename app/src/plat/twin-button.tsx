import { twinOpen } from "./twin.tsx";

/** The table of the same classes stands in place of the map, or goes. */
export const TwinButton = () => (
  <button
    type="button"
    class="link small"
    aria-pressed={twinOpen.value}
    onClick={() => (twinOpen.value = !twinOpen.value)}
  >
    {twinOpen.value ? "Map" : "Table of these classes"}
  </button>
);
