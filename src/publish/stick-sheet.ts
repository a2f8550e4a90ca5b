import type { ZeroRate } from "../plan/index.ts";
import { KG_HA_MARK } from "../prescription/index.ts";
import type { Stick } from "./stick-set.ts";

/**
 * The cab sheet as it goes on a stick: every map by the name it has there, letter of its revision and all, and one line at the
 * top of the file that says which revision this is and what to do with the stick.
 */
export function stickSheet(cab: string, stick: Stick): string {
  // The sheet of a build names what the controller loads: a map itself, or the same in kg/ha.
  const names = new Map(
    stick.maps.flatMap(({ stem, name }) => [
      [stem, name],
      [`${stem}${KG_HA_MARK}`, name],
    ]),
  );
  const named = cab.replaceAll(/[A-Z0-9]+(?:_[A-Z0-9]+)+/g, (word) => names.get(word) ?? word);
  const line =
    `<p style="max-width:700px;margin:8px auto"><b>Stick, revision ${stick.revision}.</b> Maps for the ` +
    `${stick.pass === "strip" ? "strip rig" : "spreader"}; the letter at the end of a name is the revision the map last changed in. ` +
    `${zeroWords(stick.zeroRate)} Test-load today, before the field.</p>`;
  return named.replace("<body>\n", `<body>\n${line}\n`);
}

function zeroWords(zeroRate: ZeroRate): string {
  if (zeroRate.does === "small") {
    return `Rate 0: this controller must not get one; load the fallback first, it has ${zeroRate.lbPerAc} lb/ac there.`;
  }
  return zeroRate.does === "off"
    ? "Rate 0: the meter stops."
    : "Rate 0: this controller takes it for no data and lays its default rate, so the default rate must be 0.";
}
