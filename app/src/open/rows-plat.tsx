import type { LonLat } from "../engine/drawn-types.ts";
import { boxOf } from "../engine/lon-lat.ts";
import type { FileReading } from "../engine/read-files.ts";
import { fitted } from "../plat/on-the-ground.ts";

const WIDE = 360;
const HIGH = 300;
const EDGE = 22;
/** Rows named beside their mark; of more only the marks stand. */
const NAMED = 12;

/** Boundaries and samples of the files, with the rows that cannot be used as they stand crossed out. */
export function RowsPlat({ readings }: { readonly readings: readonly FileReading[] }) {
  const rings = readings.flatMap((one) => one.drawable.rings);
  const spots = readings.flatMap(({ path, drawable }) => drawable.spots.map((spot) => ({ path, ...spot })));
  const bad = readings.flatMap((one) => one.bad);
  const marked = spots.flatMap((spot) => {
    const own = bad.filter(({ path, line }) => path === spot.path && line === spot.line);
    return own.length === 0
      ? []
      : [{ ...spot, isMended: own.every(({ mended, counts }) => mended !== null || counts) }];
  });
  if (marked.length === 0) return null;
  const box = boxOf([[[...rings.flat(), ...spots.map(({ at }) => at)]]]);
  const { toPx } = fitted(box, WIDE, HIGH, EDGE);
  const path = (ring: readonly LonLat[]) =>
    `M${ring
      .map((place) =>
        toPx(place)
          .map((value) => value.toFixed(1))
          .join(" "),
      )
      .join("L")}Z`;
  const open = marked.filter(({ isMended }) => !isMended);
  const about = `Samples on the field: ${open.length === 0 ? "no row stands open" : `not usable as they stand: rows ${open.map(({ line }) => line).join(", ")}`}`;
  return (
    <figure class="rows-plat">
      <svg viewBox={`0 0 ${WIDE} ${HIGH}`} role="img" aria-label={about}>
        <path d={rings.map(path).join("")} class="ground" fill-rule="evenodd" />
        {spots.map(({ path: of, line, at: place }) => {
          const [x, y] = toPx(place);
          return <circle key={`${of} ${line}`} cx={x} cy={y} r="2.4" class="sample" />;
        })}
        {marked.map(({ path: of, line, at: place, isMended }) => {
          const [x, y] = toPx(place);
          const isLeft = x > WIDE - 60;
          const cross = `M${x - 6} ${y - 6}L${x + 6} ${y + 6}M${x - 6} ${y + 6}L${x + 6} ${y - 6}`;
          return (
            <g key={`${of} ${line}`} data-row={line}>
              {isMended ? (
                <circle cx={x} cy={y} r="6" class="mended" />
              ) : (
                <>
                  <path d={cross} class="casing" />
                  <path d={cross} class="cross" />
                </>
              )}
              {marked.length <= NAMED && (
                <text x={isLeft ? x - 9 : x + 9} y={y + 4} text-anchor={isLeft ? "end" : "start"}>
                  row {line}
                </text>
              )}
            </g>
          );
        })}
      </svg>
      <figcaption class="small second">
        Crossed: rows that cannot be used as they stand. Ringed: mended, or counted without one value. Rows
        without a place are only listed.
      </figcaption>
    </figure>
  );
}
