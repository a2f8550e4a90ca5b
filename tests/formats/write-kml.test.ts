import { expect, it } from "vitest";
import { type Feature, rawKml, writeKml } from "../../src/formats/index.ts";

// OGC 07-147r2 (KML 2.2): tuples lon,lat parted by blanks, none inside a tuple.
const feature = (properties: Feature["properties"]): Feature => ({
  record: 1,
  geometry: {
    kind: "polygon",
    polygons: [
      [
        [
          [-93.5, 42],
          [-93.49, 42],
          [-93.49, 42.01],
        ],
        [
          [-93.494, 42.001],
          [-93.494, 42.004],
          [-93.491, 42.001],
        ],
      ],
    ],
  },
  properties,
});

const write = (features: readonly Feature[]) =>
  writeKml({ name: "a & b", features, title: ({ properties }) => `<${properties.ZONE}>`, shade: () => 2 });

it("is read back with names, data and rings as they were", () => {
  const bytes = write([feature({ ZONE: "1-2", RATE_LBAC: 40.25 })]);
  const text = new TextDecoder().decode(bytes);
  expect(text).toContain("<name>a &amp; b</name>");
  expect(text).toContain("-93.494000000,42.001000000 -93.494000000,42.004000000");
  expect(text).not.toMatch(/NetworkLink|href/);
  const [read] = rawKml(bytes, "a.kml").features;
  expect(read!.properties).toMatchObject({ ZONE: "1-2", RATE_LBAC: "40.25" });
  expect(write([feature({ ZONE: "1-2", RATE_LBAC: 40.25 })])).toEqual(bytes);
});

it("takes a feature without polygons for our bug", () => {
  expect(() => write([{ ...feature({ ZONE: "1" }), geometry: null }])).toThrow(/not polygons/);
});
