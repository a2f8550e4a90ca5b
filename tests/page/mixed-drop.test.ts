// A folder dropped as it lies: a shapefile in loose parts, pictures and workbooks beside the files of the plan.
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import type { NamedFile } from "../../app/src/engine/protocol.ts";
import { readFiles } from "../../app/src/engine/read-files.ts";
import { type Dropped, recognise } from "../../app/src/engine/recognise.ts";
import { InputError } from "../../src/errors/index.ts";
import { readZip } from "../../src/formats/index.ts";

const sample = join(import.meta.dirname, "../../sample-data/single-field");
const named = (name: string): NamedFile => [name, new Uint8Array(readFileSync(join(sample, name)))];
const bytes = (text: string) => new TextEncoder().encode(text) as Uint8Array<ArrayBuffer>;
const [, zip] = named("boundary.zip");
const parts = [...readZip(zip, "boundary.zip", { nested: "keep" }).files].map(
  ([path, part]): NamedFile => [path, Uint8Array.from(part)],
);
const others: readonly NamedFile[] = [
  ["ticket.pdf", bytes("%PDF-1.4")],
  ["field.jpg", bytes("\u00ff\u00d8")],
  ["lab.xlsx", bytes("PK\u0003\u0004")],
];
const lab = named("soil-tests.csv");
const line = named("guidance.geojson");
const ANSWERS = {
  ...{ rows: "24", "row-spacing-in": "30", cap: "field-mean:95", crop: "corn", yield: "200" },
  ...{ guide: "tri-state-2020", depth: "8" },
};
const dropped = (files: readonly NamedFile[]): Dropped => ({
  ...{ name: "folder", date: "2027-03-20", files, answers: ANSWERS, joins: null },
});

/** A .shp of one polygon with its degrees turned into figures of a plane. */
function inMetres(shp: Uint8Array): Uint8Array<ArrayBuffer> {
  const moved = Uint8Array.from(shp);
  const view = new DataView(moved.buffer);
  const corners = 100 + 8 + 44 + 4 * view.getInt32(100 + 8 + 36, true);
  const places = [
    36,
    52,
    112,
    128,
    ...Array.from({ length: (moved.length - corners) / 16 }, (_, i) => corners + 16 * i),
  ];
  for (const at of places) {
    view.setFloat64(at, 732_000 + 84_000 * (view.getFloat64(at, true) + 84.41), true);
    view.setFloat64(at + 8, 4_530_000 + 111_000 * (view.getFloat64(at + 8, true) - 40.89), true);
  }
  return moved;
}

describe("loose parts of a shapefile", () => {
  it("are one boundary with its acres on the ground, as its zip is", () => {
    const [whole] = readFiles([["boundary.zip", zip]], {});
    const loose = readFiles(parts, {});
    expect(loose).toHaveLength(1);
    expect(loose[0]!.path).toMatch(/\.zip$/);
    // Listed by the name it was dropped by.
    const [shp] = parts.map(([path]) => path).filter((path) => path.endsWith(".shp"));
    expect(loose[0]!.called).toBe(shp);
    expect([loose[0]!.as, loose[0]!.found, loose[0]!.error]).toEqual([whole!.as, whole!.found, null]);
    expect(loose[0]!.found).toMatch(/150\.53 ac/);
  });

  it("in a plane but without the .prj have no acres, and say that the coordinate system is not known", () => {
    const plane = parts.flatMap(([path, part]): NamedFile[] =>
      path.endsWith(".prj") ? [] : [[path, path.endsWith(".shp") ? inMetres(part) : part]],
    );
    const [reading] = readFiles(plane, {});
    expect(reading!.found).toBe("1 shape, 1 hole, coordinate system not known");
  });
});

describe("a shapefile without its .dbf", () => {
  const bare = parts.filter(([path]) => !path.endsWith(".dbf"));

  it("says in its line and among the notices that names and columns are missing", () => {
    const [reading] = readFiles(bare, {});
    expect(reading!.found).toMatch(/no \.dbf: names and columns are missing$/);
    expect(readFiles(parts, {})[0]!.found).not.toMatch(/dbf/);
    const renamed = ([path, text]: NamedFile): NamedFile => [
      path,
      bytes(new TextDecoder().decode(text).replaceAll("North Kettle", "Fields")),
    ];
    const { notices } = recognise(dropped([...bare, renamed(line), renamed(lab)]));
    expect(notices.filter(({ code }) => code === "no-attributes")).toHaveLength(1);
  });
});

describe("a file whose use is asked", () => {
  const creek: NamedFile = ["creek.zip", zip];

  it("is read as what was answered", () => {
    expect(readFiles([creek], {})[0]!.as).toBe("boundary");
    expect(readFiles([creek], { "role.creek.zip": "exclusions" })[0]!.as).toBe("places to keep clear of");
  });

  it("names the questions that reading it asks", () => {
    const [, text] = lab;
    const unclear = bytes(new TextDecoder().decode(text).replace("P Mehlich-3 ICP (ppm)", "P (ppm)"));
    expect(readFiles([["lab.csv", unclear]], {})[0]!.asked).toContain("method.P");
    expect(readFiles([["lab.csv", unclear]], { "method.P": "mehlich-3-icp" })[0]!.asked).not.toContain(
      "method.P",
    );
  });
});

it("a lab table without positions says so", () => {
  const table = bytes("Sample,P (ppm),K (ppm),CEC\n1,20,150,18\n2,24,160,18\n");
  const [reading] = readFiles([["lab.csv", table]], {
    "method.P": "bray-p1",
    "method.K": "ammonium-acetate",
  });
  expect(reading!.found).toBe("2 rows, no positions");
});

describe("files that are no part of a plan", () => {
  it("are passed over with a notice each, and the rest becomes the plan", () => {
    const alone = recognise(dropped([...parts, line, lab]));
    const mixed = recognise(dropped([...others, ...parts, line, lab]));
    expect(mixed.plan).toEqual(alone.plan);
    expect(mixed.files.map(([path]) => path)).toEqual(alone.files.map(([path]) => path));
    const passed = mixed.notices.filter(({ code }) => code === "file-ignored");
    expect(passed.map(({ where }) => where)).toEqual(["ticket.pdf", "field.jpg", "lab.xlsx"]);
  });

  it("are refused by what they are where nothing else was dropped", () => {
    const refused = (file: NamedFile) => {
      try {
        recognise(dropped([file]));
      } catch (error) {
        if (error instanceof InputError) return `${error.message} ${error.remedy}`;
        throw error;
      }
      return null;
    };
    expect(refused(others[0]!)).toMatch(/^ticket\.pdf: files of this kind are not read\./);
    expect(refused(others[2]!)).toBe(
      "lab.xlsx: workbooks are not read. Save its sheet of soil tests as CSV.",
    );
  });
});

describe("a file that cannot be read", () => {
  const cut: NamedFile = ["cut.geojson", bytes('{"type":"FeatureCollection","features":[{"type":"Fea')];
  const noShape: NamedFile = ["x.shp", bytes("no shapefile")];
  const notes: NamedFile = ["notes.csv", bytes('Dear all,"the field\nis wet" too,\n')];
  const refusal = (of: Dropped) => {
    try {
      return recognise(of);
    } catch (error) {
      if (error instanceof InputError) return error.message;
      throw error;
    }
  };

  it("keeps the others waiting until it is left out, and says so by the name it was dropped by", () => {
    const alone = recognise(dropped([...parts, line, lab]));
    for (const bad of [cut, noShape, notes]) {
      const files = [bad, ...parts, line, lab];
      expect(refusal(dropped(files))).toMatch(new RegExp(`^${bad[0].replace(".", "\\.")}\\b`));
      const [reading] = readFiles(files, {});
      expect(reading!.path).toBe(bad[0]);
      expect(reading!.error!.message).toMatch(new RegExp(`^${bad[0].replace(".", "\\.")}\\b`));
      const leftOut = [reading!.dropped];
      expect(recognise({ ...dropped(files), leftOut }).plan).toEqual(alone.plan);
      expect(readFiles(files, {}, null, leftOut)[0]).toMatchObject({
        path: bad[0],
        isLeft: true,
        error: null,
      });
    }
  });

  it("offers no row to leave out where the whole file cannot be read", () => {
    expect(readFiles([notes], {})[0]!.bad).toEqual([]);
    const [path, text] = lab;
    const lines = new TextDecoder().decode(text).split("\n");
    const twice = bytes([...lines.slice(0, 3), `${lines[3]!.trim()},7,7`, ...lines.slice(4)].join("\n"));
    expect(readFiles([[path, twice]], {})[0]!.bad).toEqual([]);
  });

  it("is refused by what it is where it is dropped alone on an open plan", () => {
    const open = recognise(dropped([...parts, line, lab]));
    expect(refusal({ ...dropped([others[2]!]), joins: open })).toBe("lab.xlsx: workbooks are not read.");
    const beside = recognise({ ...dropped([others[2]!, line]), joins: open });
    expect(beside.change).toBe("");
  });
});
