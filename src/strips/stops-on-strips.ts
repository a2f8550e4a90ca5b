import type { Notice } from "../errors/index.ts";
import { containsPoint, type Point } from "../geo/index.ts";
import type { WorkedSegment } from "./work-tiles.ts";

/** A stop of the rig or of a tender, to fill or to wait. */
export interface Stop {
  readonly name: string;
  /** In the field's plane, metres. */
  readonly place: Point;
  /** Place in the working order of the last segment worked before it; -1 before the work. */
  readonly afterOrder: number;
}

/** A notice for every stop that stands where strips were already made; the tender's wheels would run over them. */
export const stopsOnStrips = (
  segments: readonly Pick<WorkedSegment, "kind" | "pass" | "order" | "polygon">[],
  stops: readonly Stop[],
): Notice[] =>
  stops.flatMap(({ name, place, afterOrder }) => {
    const under = segments.find(
      ({ order, polygon }) => order <= afterOrder && containsPoint([polygon], place),
    );
    if (under === undefined) return [];
    const { kind, pass } = under;
    const strip = kind === "headland" ? `headland pass ${pass}` : `pass ${pass}`;
    const message = `${name} stands on strips already made (${strip}): work the headland last, or stop outside.`;
    return [{ code: "stop-on-strips", message, where: name }];
  });
