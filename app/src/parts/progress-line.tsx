import { useEffect, useState } from "preact/hooks";
import { isStopped, progress } from "../state/results.ts";
import { stop } from "../state/work.ts";

/** Work shows after this, ms; what is heard of it comes a fifth of a second late. */
const PATIENCE_MS = 300;

/** Progress along the foot's top rule, with words and Stop once it has gone on for half a second. */
export function ProgressLine() {
  const now = progress.value;
  const [isLong, setLong] = useState(false);
  const isWorking = now !== null;
  useEffect(() => {
    if (!isWorking) {
      setLong(false);
      return;
    }
    const timer = setTimeout(() => setLong(true), PATIENCE_MS);
    return () => clearTimeout(timer);
  }, [isWorking]);
  if (isStopped.value) {
    return (
      <p class="progress-words" role="status">
        Stopped. The map shows the plan before this change.
      </p>
    );
  }
  if (!now || !isLong) return null;
  const share = (now.fieldNumber - 1 + (now.map?.done ?? 0.5)) / now.fieldCount;
  return (
    <>
      <div class="progress">
        <svg viewBox="0 0 100 6" preserveAspectRatio="none" aria-hidden="true">
          <path d={`M0 3H${(100 * share).toFixed(1)}`} stroke="var(--flag)" stroke-width="6" />
        </svg>
      </div>
      <p class="progress-words" role="status">
        <span>
          {now.stage}
          {now.map ? ` (${now.map.test} ${Math.round(100 * now.map.done)} %)` : ""}, {now.field}
          {now.fieldCount > 1 ? `, field ${now.fieldNumber} of ${now.fieldCount}` : ""}
        </span>
        <button type="button" class="link" onClick={stop}>
          Stop
        </button>
      </p>
    </>
  );
}
