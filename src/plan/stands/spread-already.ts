import type { Notice } from "../../errors/index.ts";
import { type FieldStand, SHORT_SHARE } from "../../ledger/index.ts";
import { sum } from "../../numeric/index.ts";
import { numberText } from "../../units/index.ts";
import type { FieldResult } from "../results/result-types.ts";
import { type MapFigures, oxidePlacedLb, shareLaid } from "./placed-surplus.ts";

type Laid = FieldStand["placed"];

const spreadOf = (placed: Laid): Laid => placed.filter(({ pass }) => pass !== "strip");

/** What the ledger has of a field as spread: `337 lb 0-0-60 and 202 lb 11-52-0 spread on 11.8 ac, as catch-up or broadcast,`; empty where nothing. */
export function spreadInWords(placed: Laid): string {
  const own = spreadOf(placed);
  const of = [...new Set(own.map(({ product }) => product))].map((product) => {
    const lines = own.filter((entry) => entry.product === product);
    return { product, lb: sum(lines.map(({ lb }) => lb)), areaAc: sum(lines.map(({ areaAc }) => areaAc)) };
  });
  if (of.length === 0) return "";
  const pounds = of.map(({ product, lb }) => `${numberText(lb, 0)} lb ${product}`).join(" and ");
  return `${pounds} spread on ${numberText(Math.max(...of.map(({ areaAc }) => areaAc)), 1)} ac, as catch-up or broadcast,`;
}

/**
 * That a field's broadcast maps would be laid again, in words without a full stop at the end; empty where nothing is spread, the
 * pass is finished, or there is no such map.
 */
export function spreadAlreadyInWords(
  { field, prescriptions }: Pick<FieldResult, "field" | "prescriptions">,
  { placed, isSpreadFinished }: Pick<FieldStand, "placed" | "isSpreadFinished">,
): string {
  const spread = spreadInWords(placed);
  const isMapped = prescriptions.some(({ pass, totalLb }) => pass === "broadcast" && totalLb > 0);
  if (spread === "" || isSpreadFinished || !isMapped) return "";
  return `${field.name} has ${spread} by the ledger: its broadcast maps are of the whole field and lay it there again; once that pass is done enter it as finished (\`ledger --add\`, "kind": "finished", "pass": "broadcast")`;
}

/** Catch-up maps that are still to be laid, and what is told of them and of the others. */
interface CatchUpsToLay<T> {
  readonly toLay: readonly T[];
  readonly notices: readonly Notice[];
}

/**
 * The catch-up maps that are still to be laid: none once the broadcast pass is finished, and none of which the ledger has as
 * much as spread, whatever product brought it; of one of which it has a part it is told that the map lays that again.
 */
export function catchUpsToLay<T extends MapFigures & { readonly stem: string }>(
  { field, finished }: Pick<FieldResult, "field" | "finished">,
  maps: readonly T[],
  placed: Laid,
): CatchUpsToLay<T> {
  const spread = spreadOf(placed);
  const isFinished = finished.some(({ pass }) => pass === "broadcast");
  if (!isFinished && spread.length === 0) return { toLay: maps, notices: [] };
  const shareOf = (map: T): number => shareLaid(map, maps, (oxide) => oxidePlacedLb(spread, oxide));
  const isLaid = (map: T): boolean => isFinished || shareOf(map) >= SHORT_SHARE;
  const toLay = maps.filter((map) => !isLaid(map));
  const laid = maps.filter(isLaid);
  const again = toLay.filter((map) => shareOf(map) > 0);
  const inWords = (some: readonly T[]): string =>
    some.map(({ stem, totalLb, product }) => `${stem}, ${numberText(totalLb, 0)} lb ${product}`).join("; ");
  const notSpread = laid
    .filter((map) => shareOf(map) < SHORT_SHARE)
    .map((map) => `${numberText((1 - shareOf(map)) * map.totalLb, 0)} lb ${map.product}`);
  const rest =
    notSpread.length === 0
      ? ""
      : `; of these ${notSpread.join(" and ")} were not spread: where the ground is to have them, take the finish back (\`ledger --void\`), spread them by hand and enter them`;
  const lies = isFinished
    ? `${field.name}: its broadcast pass is finished by the ledger`
    : `${field.name} has ${spreadInWords(placed)} by the ledger`;
  const tell = (code: string, some: readonly T[], message: string): Notice[] =>
    some.length === 0 ? [] : [{ code, message: `${lies}: ${message}`, where: field.id }];
  return {
    toLay,
    notices: [
      ...tell(
        "catch-up-laid",
        laid,
        `no catch-up is made again (${inWords(laid)})${rest}; a line that is wrong is taken back with \`ledger --void\``,
      ),
      ...tell(
        "catch-up-laid-again",
        again,
        `THE CATCH-UP IS OF THE WHOLE FIELD AND LAYS IT THERE AGAIN (${inWords(again)}); spread it only where nothing was spread`,
      ),
    ],
  };
}
