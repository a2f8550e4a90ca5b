import { options, render } from "preact";
import { App } from "./app.tsx";
import { breathe } from "./engine/yielding.ts";
import { listenToKeys } from "./keys.ts";
import { holdAgainst, openServed } from "./open/fetched.ts";
import { originOf, type Served } from "./open/served.ts";
import { keepCompared } from "./state/compare.ts";
import { drawAfter } from "./state/draw-later.ts";
import { rememberBefore } from "./state/figures.ts";
import { keepMapBefore } from "./state/map-before.ts";
import { isOpening } from "./state/opened.ts";
import { keepSeasonInStep } from "./state/season-state.ts";
import { bringBack, followLedger, holdPlan, keepSaved } from "./state/session.ts";
import { keepInStep } from "./state/work.ts";

/** Show the page, with the plan that was open last or that the server holds. */
export async function openPage(asked: Promise<Served | null>): Promise<void> {
  options.debounceRendering = drawAfter;
  listenToKeys();
  keepSeasonInStep();
  render(<App />, document.getElementById("page")!);
  holdPlan(openServed);
  await breathe();

  const served = await asked;
  const isBack = await bringBack(served ? originOf(served) : null, served);
  keepInStep();
  keepSaved();
  rememberBefore();
  keepCompared();
  keepMapBefore();
  followLedger();
  await breathe();
  if (served && isBack) await holdAgainst(served);
  else if (served) await openServed(served);
  isOpening.value = false;
}
