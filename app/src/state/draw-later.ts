import { soon } from "../engine/yielding.ts";

let isLater = false;

/**
 * Change what the page shows, the drawing of it in a task of its own: for changes that much hangs on. What somebody does on the
 * page is drawn at once, before anything else happens.
 */
export function drawnLater<T>(change: () => T): T {
  isLater = true;
  try {
    return change();
  } finally {
    isLater = false;
  }
}

/** When the page is drawn after a change. */
export const drawAfter = (draw: () => void): void => {
  if (isLater) soon(draw);
  else queueMicrotask(draw);
};
