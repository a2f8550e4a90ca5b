// A layer too large to keep its shapes reads the same as a small one; tests/bench measures it.
import { describe, expect, it } from "vitest";
import { type Feature, writeShapefile } from "../../src/formats/index.ts";
import type { Point } from "../../src/geo/index.ts";
import { readShapefile } from "../support/read-layers.ts";
import { comparable, polygonsOf } from "./support.ts";

describe("a shapefile of more than 300,000 vertices", () => {
  const circle = (x: number, size: number): Point[] =>
    Array.from({ length: 1000 }, (_, k) => {
      const angle = (2 * Math.PI * k) / 1000;
      return [x + size * Math.cos(angle), 42 + size * Math.sin(angle)];
    });
  const features = Array.from({ length: 160 }, (_, i): Feature => {
    const [outer, hole] = [circle(-93 + i * 0.01, 0.004), circle(-93 + i * 0.01, 0.001).toReversed()];
    return { record: i + 1, geometry: { kind: "polygon", polygons: [[outer, hole]] }, properties: { N: i } };
  });
  const files = writeShapefile({
    stem: "big",
    features,
    columns: [{ name: "N", type: "N", width: 6, decimals: 0 }],
    date: "2026-04-15",
  });
  const part = (ending: string) => files.get(`big.${ending}`)!;
  const layer = readShapefile(
    { stem: "big", path: "big.shp", shp: part("shp"), shx: part("shx"), dbf: part("dbf"), prj: part("prj") },
    "big.shp",
  );

  it("gives each shape when it is asked for, the same every time", () => {
    expect(layer.features).toHaveLength(160);
    const [feature, made] = [layer.features[77]!, features[77]!];
    expect(comparable(polygonsOf(feature))).toEqual(comparable(polygonsOf(made)));
    expect(feature.geometry).toEqual(feature.geometry);
    expect({ ...feature }).toEqual(made);
  });
});
