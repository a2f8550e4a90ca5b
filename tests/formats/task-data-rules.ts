import { expect } from "vitest";
import { readXml, type XmlElement } from "../../src/formats/index.ts";

/** Attributes an element must and may have; R of formats section 6.2 (schema files V3-3 and V4-3, ISO 11783-11 online data
 * base, read in an open library's copy). Only what a rate prescription uses, and what both versions share. */
const ATTRIBUTES: Readonly<Record<string, readonly [must: string, may: string]>> = {
  CTR: ["AB", ""],
  FRM: ["AB", "I"],
  PFD: ["ACD", "BEF"],
  PLN: ["A", "C"],
  LSG: ["A", "C"],
  PNT: ["ACD", "E"],
  PDT: ["AB", "CDE"],
  PGP: ["AB", ""],
  VPN: ["ABCD", "E"],
  TSK: ["AG", "BCDEHIJ"],
  TZN: ["A", "BC"],
  PDV: ["AB", "CDE"],
  GRD: ["ABCDEFGI", "HJ"],
};
const CHILDREN: Readonly<Record<string, readonly string[]>> = {
  ISO11783_TaskData: ["CTR", "FRM", "PFD", "PDT", "PGP", "VPN", "TSK"],
  PFD: ["PLN"],
  PLN: ["LSG"],
  LSG: ["PNT"],
  TSK: ["TZN", "GRD"],
  TZN: ["PLN", "PDV"],
};
/** Texts of at most 32 characters. */
const TEXTS: readonly string[] = ["CTR B", "FRM B", "PFD C", "PDT B", "PGP B", "VPN E", "TSK B", "TZN B"];
const REFERENCES: Readonly<Record<string, string>> = {
  "FRM I": "CTR",
  "PFD E": "CTR",
  "PFD F": "FRM",
  "TSK C": "CTR",
  "TSK D": "FRM",
  "TSK E": "PFD",
  "PDT C": "PGP",
  "PDV C": "PDT",
  "PDV E": "VPN",
};
const WITH_ID = ["CTR", "FRM", "PFD", "PDT", "PGP", "VPN", "TSK"];

const at = (element: XmlElement, key: string): string => element.attributes.get(key) ?? "";
const all = (element: XmlElement): XmlElement[] => [element, ...element.children.flatMap(all)];
const within = (text: string, least: number, most: number): boolean =>
  /^-?\d+(\.\d{1,9})?$/.test(text) && Number(text) >= least && Number(text) <= most;

/** Holds a set of task data (paths from TASKDATA on) to what ISO 11783-10 wants of a rate prescription. */
export function expectTaskDataRules(set: ReadonlyMap<string, Uint8Array>, version: 3 | 4): void {
  const root = readXml(set.get("TASKDATA/TASKDATA.XML")!, "TASKDATA.XML");
  expect(root.name).toBe("ISO11783_TaskData");
  expect(at(root, "VersionMajor")).toBe(String(version));
  expect(at(root, "VersionMinor")).toMatch(version === 4 ? /^[0-3]$/ : /^3$/);
  expect(at(root, "DataTransferOrigin")).toMatch(/^[12]$/);
  for (const key of ["ManagementSoftwareManufacturer", "ManagementSoftwareVersion"]) {
    expect([...at(root, key)].length).toBeGreaterThan(0);
    expect([...at(root, key)].length).toBeLessThanOrEqual(32);
  }
  const elements = all(root).slice(1);
  const ids = new Map<string, Set<string>>();
  for (const tag of WITH_ID) {
    const found = elements.filter((one) => one.name === tag).map((one) => at(one, "A"));
    expect(found.length, tag).toBeGreaterThan(0);
    // Tag and digits, 4 to 14 characters, no hyphen: some terminals take it for a minus.
    for (const id of found) expect(id).toMatch(new RegExp(`^${tag}[1-9]\\d{0,10}$`));
    ids.set(tag, new Set(found));
    expect(ids.get(tag)!.size, tag).toBe(found.length);
  }
  for (const element of [root, ...elements]) {
    for (const child of element.children)
      expect(CHILDREN[element.name] ?? [], element.name).toContain(child.name);
    if (element === root) continue;
    const [must, may] = ATTRIBUTES[element.name]!;
    for (const key of must) expect(element.attributes.has(key), `${element.name} ${key}`).toBe(true);
    for (const key of element.attributes.keys()) expect(must + may, element.name).toContain(key);
    for (const [key, value] of element.attributes) {
      if (!TEXTS.includes(`${element.name} ${key}`)) continue;
      expect([...value].length, value).toBeLessThanOrEqual(32);
      expect(value.trim(), `${element.name} ${key}`).not.toBe("");
    }
    for (const [where, tag] of Object.entries(REFERENCES)) {
      const [name, key] = where.split(" ") as [string, string];
      if (element.name === name && element.attributes.has(key))
        expect(ids.get(tag)!).toContain(at(element, key));
    }
    if (element.name === "PNT") {
      expect(at(element, "A")).toMatch(/^[12]$/); // version 3 knows no other
      expect(within(at(element, "C"), -90, 90)).toBe(true);
      expect(within(at(element, "D"), -180, 180)).toBe(true);
    }
    if (element.name === "PLN") {
      expect(at(element, "A")).toMatch(/^[12]$/);
      const outer = element.children.filter((ring) => at(ring, "A") === "1");
      expect(outer).toHaveLength(1); // one exterior a PLN
      for (const ring of element.children) {
        expect(at(ring, "A")).toMatch(/^[12]$/);
        const places = ring.children.map((point) => `${at(point, "C")} ${at(point, "D")}`);
        expect(places.length).toBeGreaterThanOrEqual(4);
        expect(places.at(-1)).toBe(places[0]); // closed
      }
    }
    if (element.name === "VPN") {
      expect(at(element, "B")).toMatch(/^-?\d+$/);
      expect(Number(at(element, "C"))).toBeCloseTo(0.008921791, 9);
      expect(at(element, "D")).toMatch(/^[0-7]$/);
    }
    if (element.name === "PFD") {
      expect(at(element, "D")).toMatch(/^\d+$/);
      for (const key of ["E", "F"]) expect(element.attributes.has(key)).toBe(true);
    }
    if (element.name === "PDV") {
      expect(at(element, "A")).toBe("0006");
      expect(at(element, "B")).toMatch(/^\d{1,10}$/);
      expect(Number(at(element, "B"))).toBeLessThanOrEqual(2 ** 31 - 1);
    }
    if (element.name === "TSK") expectTaskRules(element, set);
  }
}

function expectTaskRules(task: XmlElement, set: ReadonlyMap<string, Uint8Array>): void {
  for (const key of ["C", "D", "E", "H", "I", "J"]) expect(task.attributes.has(key), key).toBe(true);
  expect(at(task, "G")).toBe("1");
  const zones = task.children.filter((child) => child.name === "TZN");
  const codes = zones.map((zone) => at(zone, "A"));
  expect(new Set(codes).size).toBe(codes.length);
  for (const code of codes) expect(Number(code) >= 0 && Number(code) <= 254 && /^\d+$/.test(code)).toBe(true);
  const values = (zone: XmlElement) => zone.children.filter((child) => child.name === "PDV");
  const perZone = new Set(
    zones.map((zone) =>
      values(zone)
        .map((value) => at(value, "C"))
        .join(" "),
    ),
  );
  expect(perZone.size).toBe(1); // the same products, in the same order, in every zone
  for (const key of ["H", "I", "J"]) expect(codes).toContain(at(task, key));
  const grids = task.children.filter((child) => child.name === "GRD");
  expect(grids.length).toBeLessThanOrEqual(1);
  for (const grid of grids) {
    expect(at(grid, "G")).toMatch(/^GRD\d{5}$/);
    expect(at(grid, "I")).toBe("2");
    const home = zones.find((zone) => at(zone, "A") === at(grid, "J"))!;
    expect(values(home).every((value) => at(value, "B") === "0")).toBe(true); // placeholders
    const size = Number(at(grid, "E")) * Number(at(grid, "F")) * 4 * values(home).length;
    expect(Number(at(grid, "H"))).toBe(size);
    expect(set.get(`TASKDATA/${at(grid, "G")}.BIN`)!.length).toBe(size);
    expect(within(at(grid, "A"), -90, 90) && within(at(grid, "B"), -180, 180)).toBe(true);
    for (const key of ["C", "D"]) expect(Number(at(grid, key)) > 0 && Number(at(grid, key)) < 1).toBe(true);
  }
}
