import { writeCsv } from "../formats/index.ts";
import { cellCentre } from "../geo/index.ts";
import type { FieldResult } from "../plan/index.ts";
import { writtenWith } from "../units/index.ts";

/**
 * One row a cell that lies in the field: its middle, its area inside, the mapped tests, the need, and for each
 * product what the split puts in the strip and leaves for the spreader there, lb product/ac before rates are
 * averaged over segments and stepped.
 */
export function cellsCsv(result: FieldResult): Uint8Array {
  const { grid, areaM2 } = result.cells;
  const { products } = result.split;
  const headings = [
    "lon",
    "lat",
    "areaM2",
    "p",
    "k",
    "cec",
    "needP2O5LbPerAc",
    "needK2OLbPerAc",
    ...products.flatMap((rates) => [`strip${rates.product}LbPerAc`, `broadcast${rates.product}LbPerAc`]),
  ];
  const rows: (string | number)[][] = [];
  const at = (values: Float64Array | undefined, i: number) => (values ? writtenWith(values[i]!, 6) : "");
  for (let i = 0; i < areaM2.length; i++) {
    if (!(areaM2[i]! > 0)) continue;
    const [lon, lat] = result.checked.frame.toLonLat(cellCentre(grid, i));
    rows.push([
      writtenWith(lon, 9),
      writtenWith(lat, 9),
      writtenWith(areaM2[i]!, 6),
      at(result.maps.P?.estimate, i),
      at(result.maps.K?.estimate, i),
      at(result.maps.CEC?.estimate, i),
      writtenWith(result.need.p2o5LbPerAc[i]!, 6),
      writtenWith(result.need.k2oLbPerAc[i]!, 6),
      ...products.flatMap((rates) => [writtenWith(rates.strip[i]!, 6), writtenWith(rates.rest[i]!, 6)]),
    ]);
  }
  return writeCsv(headings, rows);
}
