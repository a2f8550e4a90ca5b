import { describe, expect, it } from "vitest";
import { InputError } from "../../src/errors/index.ts";
import { newPlan, readInput } from "../../src/plan/index.ts";
import { columnKey, readHeadings } from "../../src/soil/index.ts";

const csv = (text: string): Uint8Array => new TextEncoder().encode(text);
const read = (text: string, answers: Readonly<Record<string, string>>) =>
  readInput("lab.csv", new Map([["lab.csv", csv(text)]]), { answers });

const ODD = [
  "Spot,North,East,Result one,Result two,Old P ppm",
  "1,41.1,-93.1,21,150,99",
  "2,41.2,-93.2,30,160,99",
].join("\n");
const chosen = {
  [columnKey("lab.csv", "Spot")]: "sample",
  [columnKey("lab.csv", "North")]: "latitude",
  [columnKey("lab.csv", "East")]: "longitude",
  [columnKey("lab.csv", "Result one")]: "P lb/ac",
  [columnKey("lab.csv", "Result two")]: "K ppm",
  "method.P": "bray-p1",
  "method.K": "ammonium-acetate",
  depth: "0-6.7in",
};

describe("columns chosen by hand", () => {
  it("make a lab table of columns whose headings say nothing, in the unit chosen", () => {
    const reading = read(ODD, chosen);
    expect(reading.questions).toEqual([]);
    if (reading.taken?.role !== "samples") throw new Error("not read as soil samples");
    const { lab } = reading.taken;
    // lb/ac of a furrow slice is twice the ppm; the heading that says P by itself is put aside.
    expect(lab.samples.map(({ id, P, K }) => [id, P, K])).toEqual([
      ["1", 10.5, 150],
      ["2", 15, 160],
    ]);
    expect(lab.unused).toEqual(["Old P ppm"]);
  });

  it("put another column of the same test aside, or one that is not wanted", () => {
    const headings = ["P ppm", "P2O5 ppm", "K ppm", "Phos"];
    const means = (choice: Parameters<typeof readHeadings>[0]["chosen"]) =>
      readHeadings({ headings, chosen: choice! }).map((one) => one.means);
    expect(means({ Phos: { means: "P", unit: null } })).toEqual(["other", "other", "K", "P"]);
    expect(means({ "P ppm": { means: "other", unit: null } })).toEqual(["other", "P2O5", "K", "other"]);
  });

  it("a field is read by its number, or with whose it is, unless a column names it alone", () => {
    const fieldsIn = (...headings: string[]) =>
      readHeadings({ headings }).flatMap((one) => (one.means === "field" ? [one.heading] : []));
    const names = ["Client Field", "Grower Field", "FLD", "Field No", "Field #", "Field ID", "Field Name"];
    for (const heading of [...names, "Farm/Field", "Field/Tract"])
      expect(fieldsIn(heading)).toEqual([heading]);
    expect(fieldsIn("Client", "Farm", "Field Size", "Field Capacity")).toEqual([]);
    expect(fieldsIn("Field No", "Farm/Field", "Field Name", "Field ID")).toEqual(["Field Name"]);
    expect(fieldsIn("Field No", "Farm/Field")).toEqual(["Field No"]);
  });

  it("what no column can be is answered with what it can be", () => {
    const banana = () => read(ODD, { [columnKey("lab.csv", "Spot")]: "banana" });
    expect(banana).toThrow(
      /column Spot: “banana” is nothing a column can be; it can be sample, labNumber, field, .* other, with/,
    );
  });

  it("name a heading that the file has not, and what no column can be", () => {
    expect(() => read(ODD, { [columnKey("lab.csv", "Gone")]: "P" })).toThrow(InputError);
    expect(() => read(ODD, { [columnKey("lab.csv", "Result one")]: "P furlongs" })).toThrow(/“P furlongs”/);
  });

  it("are kept with the source in a new plan", () => {
    const boundary = csv(
      JSON.stringify({
        type: "FeatureCollection",
        features: [
          {
            type: "Feature",
            properties: { name: "Home" },
            geometry: {
              type: "Polygon",
              coordinates: [
                [
                  [-93.3, 41],
                  [-93, 41],
                  [-93, 41.3],
                  [-93.3, 41.3],
                  [-93.3, 41],
                ],
              ],
            },
          },
          {
            type: "Feature",
            properties: { name: "Home" },
            geometry: {
              type: "LineString",
              coordinates: [
                [-93.2, 41.05],
                [-93.2, 41.25],
              ],
            },
          },
        ],
      }),
    );
    const rig = { rows: "16", "row-spacing-in": "30", cap: "150" };
    const crop = { crop: "corn", yield: "200", guide: "tri-state-2020" };
    const { plan } = newPlan(
      "Home",
      "2027-01-02",
      [
        { path: "field.geojson", bytes: boundary },
        { path: "lab.csv", bytes: csv(ODD) },
      ],
      { ...chosen, "method.P": "mehlich-3-icp", "method.K": "mehlich-3", ...rig, ...crop },
    );
    const source = plan.sources.find(({ as }) => as === "samples");
    expect(source?.answers[columnKey("lab.csv", "Result one")]).toBe("P lb/ac");
  });
});
