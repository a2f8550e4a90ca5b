import { effect } from "@preact/signals";
import { classOf, type Layer } from "#core";
import { boxOf } from "../engine/lon-lat.ts";
import type { DrawnLayer } from "../engine/protocol.ts";
import type { AppliedShown } from "../engine/season-protocol.ts";
import type { PlatMap } from "../map/plat-map.ts";
import { drawing } from "../state/drawing.ts";
import { chosenField, layersOf } from "../state/look.ts";
import { plan } from "../state/opened.ts";
import { field, outlines } from "../state/results.ts";
import { here } from "../state/route.ts";
import { productShown } from "../state/season-state.ts";
import { settings } from "../state/settings.ts";
import { farmFields } from "./farm-fields.ts";

/** Tell the map what the open sheet shows, whenever it changes; only what is new is sent. */
export function keepMapInStep(map: PlatMap): () => void {
  let ground: string | null = null;
  let passes: unknown = null;
  let steps: unknown = null;
  let samples = "";
  let passKey: string | null = null;
  let rules: DrawnLayer | AppliedShown | null = null;
  let farmBox = "";
  const ends = [
    effect(() => map.wear(settings.value.theme)),
    effect(() => {
      const { sheet } = here.value;
      const shown = field.value;
      const of = plan.value;
      const isFarm = sheet === "farm" || sheet === "order" || sheet === "cab-sheet";
      const here_ = isFarm ? null : (shown?.ground ?? null);
      const edge = here_ ?? (isFarm ? null : outlineOfChosen());
      const where = edge && `${edge.id} ${edge.box.join()} ${edge.boundary.flat(2).length}`;
      if (where !== ground) {
        ground = where;
        map.showGround(edge);
        if (edge) map.frame(edge.box);
      }
      const wanted = of ? layersOf(here.value, of).plat : null;
      const drawn = isFarm ? null : (shown?.layers.find(({ layer }) => layer.id === wanted) ?? null);
      const flat = drawn?.layer.draws === "steps" ? drawn : null;
      if (flat !== steps) {
        steps = flat;
        map.showSteps(flat, here_);
      }
      const test = sheet === "soil" && flat ? (flat.layer.id.split("/")[1] as "P" | "K" | "CEC") : "P";
      const off = here_?.samples.filter((sample) => sample.off.includes(test)).map(({ id }) => id);
      const marks = sheet === "soil" && here_ ? `${here_.id} ${test} ${off?.join()}` : "";
      if (marks !== samples) {
        samples = marks;
        map.showSamples(marks === "" ? null : here_, test);
      }
      const ruled = drawn?.layer.draws === "passes" ? drawn : null;
      const lines = ruled ? (shown?.passes ?? null) : null;
      const key = lines && `${sheet}`;
      if (lines !== passes || key !== passKey) {
        passes = lines;
        passKey = key;
        map.showPasses(lines, of?.rig.segmentM ?? 30, sheet === "strips");
        map.showLine(lines && sheet === "strips" ? here_ : null);
        map.showKeptOff(lines && shown ? shown.keptOff.strip : []);
        rules = null;
      }
      if (!ruled || !lines) return;
      const applied = productShown.value;
      // A log is read anew a little after the plan has changed.
      const isApplied = applied?.steps.length === lines.pass.length;
      const look = isApplied ? applied : ruled;
      if (look === rules) return;
      rules = look;
      if (isApplied) map.showApplied(applied.steps);
      else map.showRates(stepsOf(ruled.layer));
    }),
    effect(() => {
      map.showDraft(here.value.sheet === "strips" ? (drawing.value?.corners ?? []) : []);
    }),
    effect(() => {
      const fields = farmFields.value;
      map.showFarm(fields);
      const box = fields && fields.length > 0 ? boxOf(fields.flatMap((one) => one.boundary)) : null;
      const where = box?.join() ?? "";
      if (box && where !== farmBox) map.frame(box);
      farmBox = where;
    }),
  ];
  return () => {
    for (const end of ends) end();
  };
}

/** The chosen field's edge while its ground is not worked out yet. */
const outlineOfChosen = () => outlines.value.find(({ id }) => id === chosenField.value) ?? null;

/** The ramp step of each value. */
export function stepsOf({ values, classes }: Layer): Int8Array {
  return Int8Array.from(values, (value) => classes.steps[classOf(classes.limits, value)]!);
}
