import { type Feature, type ShapefileParts, writeShapefile } from "../../src/formats/index.ts";
import { readShapefile } from "../support/read-layers.ts";

export const FEATURES = [0, 1].map(
  (i): Feature => ({
    record: i + 1,
    geometry: {
      kind: "polygon",
      polygons: [
        [
          [
            [-93 + i, 42],
            [-92 + i, 42],
            [-93 + i, 43],
          ],
        ],
      ],
    },
    properties: { RATE: 10 * i, NAME: "a" },
  }),
);
const WRITTEN = writeShapefile({
  stem: "yard",
  features: FEATURES,
  columns: [
    { name: "RATE", type: "N", width: 10, decimals: 2 },
    { name: "NAME", type: "C", width: 8 },
  ],
  date: "2026-04-15",
});
/** Bytes of one part of a small shapefile of two triangles, columns RATE N(10,2) and NAME C(8). */
export const part = (ending: string) => WRITTEN.get(`yard.${ending}`)!;
export const PARTS: ShapefileParts = {
  stem: "yard",
  path: "yard.shp",
  shp: part("shp"),
  shx: part("shx"),
  dbf: part("dbf"),
  prj: part("prj"),
  cpg: part("cpg"),
};
/** The layer of the same shapefile, parts exchanged. */
export const readYard = (changed: Partial<ShapefileParts> = {}) =>
  readShapefile({ ...PARTS, ...changed }, "yard.shp");
/** The layer of the same shapefile, parts left out. */
export const without = (...endings: ("shx" | "dbf" | "prj" | "cpg")[]) =>
  readShapefile(
    Object.fromEntries(Object.entries(PARTS).filter(([key]) => !endings.includes(key as "shx"))) as never,
    "yard.shp",
  );
