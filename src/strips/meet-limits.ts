import { InputError, type Notice } from "../errors/index.ts";

/** What a controller can load; undefined where it has no limit that is known. */
export interface MapLimits {
  readonly polygons?: number;
  readonly vertices?: number;
  readonly bytes?: number;
}

/** A map as it would be loaded, and its pounds. */
interface MapSize {
  readonly polygons: number;
  readonly vertices: number;
  readonly bytes: number;
  readonly totalLb: number;
}

interface LimitedMap<Map extends MapSize> {
  readonly map: Map;
  readonly shortestM: number;
  /** One when the map had to be coarsened, with the change in the total. */
  readonly notices: readonly Notice[];
}

/** Shortest lengths tried, each so much longer than the one before. */
const GROWTH = 1.25;
const MOST_TRIES = 40;

/**
 * The finest map that a controller can load: stretches are made longer until every limit is met.
 * `mapAt` makes the map for a shortest length. Throws `limits-not-met` when even very long stretches do not fit.
 */
export const meetLimits = <Map extends MapSize>(
  limits: MapLimits,
  shortestM: number,
  mapAt: (shortestM: number) => Map,
): LimitedMap<Map> => {
  const first = mapAt(shortestM);
  let map = first;
  let length = shortestM;
  for (let tries = 0; !fits(map, limits); tries++) {
    if (tries === MOST_TRIES) {
      throw new InputError(
        "limits-not-met",
        `However long its stretches, a strip map has ${sizeOf(map)}; the limits are ${limitsOf(limits)}.`,
        "Load its plain fallback (“fallback” in the plan's extras), which keeps within them.",
      );
    }
    length *= GROWTH;
    map = mapAt(length);
  }
  if (map === first) return { map, shortestM, notices: [] };
  const changeLb = map.totalLb - first.totalLb;
  const share = first.totalLb > 0 ? (100 * changeLb) / first.totalLb : 0;
  const message = `Stretches were made at least ${length.toFixed(0)} m long instead of ${shortestM.toFixed(0)} m to keep within ${limitsOf(limits)}: ${sizeOf(first)} became ${sizeOf(map)}, and the total changed by ${changeLb.toFixed(1)} lb (${share.toFixed(3)} %).`;
  return { map, shortestM: length, notices: [{ code: "map-coarsened", message, where: "" }] };
};

const fits = (map: MapSize, limits: MapLimits): boolean =>
  (["polygons", "vertices", "bytes"] as const).every(
    (name) => map[name] <= (limits[name] ?? Number.POSITIVE_INFINITY),
  );

const sizeOf = ({ polygons, vertices, bytes }: MapSize): string =>
  `${polygons} polygons, ${vertices} vertices, ${bytes} bytes`;

const limitsOf = (limits: MapLimits): string =>
  (["polygons", "vertices", "bytes"] as const)
    .flatMap((name) => (limits[name] === undefined ? [] : [`${limits[name]} ${name}`]))
    .join(", ");
