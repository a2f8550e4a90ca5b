import { rigWidthM } from "#core";
import type { LonLat } from "../engine/protocol.ts";
import type { PlatMap } from "../map/plat-map.ts";
import { plan } from "../state/opened.ts";
import { field, pointed } from "../state/results.ts";
import { hasFarmPlat, here } from "../state/route.ts";
import { askReadOut } from "../state/work.ts";
import { arrows, metresBetween, moved } from "./on-the-ground.ts";

/**
 * Arrows move the read-out: along the pass by a segment, across it by a pass, whichever lies nearest the arrow.
 * Enter pins, Escape lets go. True when the key was ours.
 */
export function moveReadOut(map: PlatMap, event: KeyboardEvent): boolean {
  const shown = field.peek();
  const of = plan.peek();
  if (!shown || !of || hasFarmPlat(here.peek())) return false;
  const [west, south, east, north] = shown.ground.box;
  const middle: LonLat = [(west + east) / 2, (south + north) / 2];
  const now = pointed.peek();
  if (event.key === "Enter" && now) {
    pointed.value = { ...now, pinned: !now.pinned };
    return true;
  }
  if (event.key === "Escape" && now) {
    pointed.value = null;
    return true;
  }
  const wanted = arrows[event.key];
  if (!wanted) return false;
  if (!now) {
    askReadOut(middle, true);
    return true;
  }
  const [dx, dy] = metresBetween(...shown.ground.line);
  const length = Math.hypot(dx, dy);
  const along = [dx / length, dy / length] as const;
  const across = [along[1], -along[0]] as const;
  const dot = (v: readonly [number, number]) => v[0] * wanted[0] + v[1] * wanted[1];
  const isAlong = Math.abs(dot(along)) >= Math.abs(dot(across));
  const way = isAlong ? along : across;
  const metres = isAlong ? of.rig.segmentM : rigWidthM(of);
  const sign = Math.sign(dot(way)) || 1;
  const [lon, lat] = moved(now.at, sign * metres * way[0], sign * metres * way[1]);
  const next: LonLat = [Math.min(east, Math.max(west, lon)), Math.min(north, Math.max(south, lat))];
  askReadOut(next, true);
  map.keepInView(next);
  return true;
}
