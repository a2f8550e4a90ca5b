import type { Notice } from "../errors/index.ts";
import { type FieldStand, SHORT_SHARE } from "../ledger/index.ts";
import { sum } from "../numeric/index.ts";
import { numberText } from "../units/index.ts";
import type { FieldResult } from "./result-types.ts";
import { type MapFigures, shareInStrips } from "./strip-surplus.ts";

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

/** That a field's broadcast maps would be laid again, in words without a full stop at the end; empty where nothing is spread or the pass is finished. */
export function spreadAlreadyInWords(
  { field, finished }: Pick<FieldResult, "field" | "finished">,
  { placed }: Pick<FieldStand, "placed">,
): string {
  const spread = spreadInWords(placed);
  if (spread === "" || finished.some(({ pass }) => pass === "broadcast")) return "";
  return `${field.name} has ${spread} by the ledger: its broadcast maps are of the whole field and lay it there again; once that pass is done enter it as finished (\`ledger --add\`, "kind": "finished", "pass": "broadcast")`;
}

/** Catch-up maps, and what of them the ledger has as spread. */
export interface CatchUpsToLay<T> {
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
  const shareOf = (map: T): number =>
    shareInStrips(map, maps, (oxide) =>
      sum(spread.map(({ p2o5Lb, k2oLb }) => (oxide === "P2O5" ? p2o5Lb : k2oLb))),
    );
  const wanted = maps.filter(({ totalLb }) => totalLb > 0);
  const isLaid = (map: T): boolean => isFinished || (spread.length > 0 && shareOf(map) >= SHORT_SHARE);
  const inWords = (some: readonly T[]): string =>
    some.map(({ stem, totalLb, product }) => `${stem}, ${numberText(totalLb, 0)} lb ${product}`).join("; ");
  const [laid, again] = [
    wanted.filter(isLaid),
    wanted.filter((map) => !isLaid(map) && spread.length > 0 && shareOf(map) > 0),
  ];
  const lies = isFinished
    ? `${field.name}: its broadcast pass is finished by the ledger`
    : `${field.name} has ${spreadInWords(placed)} by the ledger`;
  const tell = (code: string, message: string): Notice => ({ code, message, where: field.id });
  return {
    toLay: laid.length === 0 ? maps : maps.filter((map) => map.totalLb > 0 && !isLaid(map)),
    notices: [
      ...(laid.length === 0
        ? []
        : [
            tell(
              "catch-up-laid",
              `${lies}: no catch-up is made again (${inWords(laid)}); a line that is wrong is taken back with \`ledger --void\``,
            ),
          ]),
      ...(again.length === 0
        ? []
        : [
            tell(
              "catch-up-laid-again",
              `${lies}: THE CATCH-UP IS OF THE WHOLE FIELD AND LAYS IT THERE AGAIN (${inWords(again)}); spread it only where nothing was spread`,
            ),
          ]),
    ],
  };
}
