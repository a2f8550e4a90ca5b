import { counted, ringContains } from "#core";
import type { LonLat } from "../engine/drawn-types.ts";
import type { FileReading } from "../engine/read-files.ts";
import { outlines } from "../state/results.ts";

/** Rows named; of more only how many. */
const NAMED = 8;

interface LeftOverProps {
  readonly readings: readonly FileReading[];
  /** The open plan's boundaries count too. */
  readonly joins: boolean;
}

/** What would first show once the maps are made: samples outside every boundary, values below what the lab sees. */
export function LeftOver({ readings, joins }: LeftOverProps) {
  // Each file by itself: the same ground in two files is not a hole.
  const dropped = readings.map(({ drawable }) => drawable.rings).filter((rings) => rings.length > 0);
  const standing = joins ? outlines.value.map(({ boundary }) => boundary.flat()) : [];
  const grounds = [...dropped, ...standing];
  const lies = (at: LonLat) => grounds.some((rings) => isInside(at, rings));
  const outside = readings.flatMap(({ path, drawable }) => {
    const lines = grounds.length === 0 ? [] : drawable.spots.filter(({ at }) => !lies(at));
    return lines.length === 0 ? [] : [{ path, lines: lines.map(({ line }) => line) }];
  });
  const censored = readings.filter((one) => one.censored.length > 0);
  return (
    <>
      {outside.map(({ path, lines }) => (
        <p class="doubt" key={path}>
          <b>{path}</b>, {counted(lines.length, "sample")} outside every boundary here: line{" "}
          {lines.slice(0, NAMED).join(", ")}
          {lines.length > NAMED ? ` and ${lines.length - NAMED} more` : ""}.
        </p>
      ))}
      {censored.map(({ path, censored: said }) => (
        <p class="remark" key={path}>
          <b>{path}</b>, {said.slice(0, NAMED).join(" ")}
          {said.length > NAMED ? ` And ${said.length - NAMED} more.` : ""}
        </p>
      ))}
    </>
  );
}

/** Inside an odd number of the rings, outer ones and holes. */
const isInside = (at: LonLat, rings: readonly (readonly LonLat[])[]): boolean =>
  rings.filter((ring) => ringContains(ring, at)).length % 2 === 1;
