import { refusal } from "../state/results.ts";

/** In place of figures of the field that are not there. */
export const NotYet = () => (
  <p class="second">
    {refusal.value ? "Not worked out: what stands in the way is said above." : "Being worked out."}
  </p>
);
