import {
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, expect, test } from "vitest";
import { rereadShapefile } from "../../src/formats/index.ts";
import { type Plan, writePlan } from "../../src/plan/index.ts";
import { cli } from "../support/in-process-cli.ts";
import { seasonPlanDocument } from "../support/season-plan.ts";
import { smallFarmFiles } from "../support/small-farm.ts";

const base = mkdtempSync(join(tmpdir(), "catch-up-"));
afterAll(() => rmSync(base, { recursive: true, force: true }));

/** Pounds that went out, far less than the maps have, so that there is something to catch up on. */
const LITTLE = { "11-52-0": { usedLb: 900 }, "0-0-60": { usedLb: 300 } };

async function caughtUp(name: string, more: Partial<Plan>, used: object = LITTLE) {
  const folder = join(base, name);
  mkdirSync(folder);
  for (const [path, bytes] of smallFarmFiles()) writeFileSync(join(folder, path), bytes);
  writeFileSync(join(folder, "plan.json"), writePlan({ ...seasonPlanDocument(), ...more }));
  const tickets = join(folder, "used.json");
  writeFileSync(tickets, JSON.stringify(used));
  const out = join(base, `${name}-out`);
  const told = await cli("applied", folder, "--tickets", tickets, "--out", out);
  expect([told.exit, told.exit === 0 ? "" : told.error]).toEqual([0, ""]);
  return { told, out, folder };
}

/** The records of a shapefile in a folder. */
const recordsOf = (path: string, called: string) =>
  rereadShapefile(
    new Map(
      ["shp", "shx", "dbf", "prj", "cpg"].map((end) => [
        `${called}.${end}`,
        readFileSync(join(path, `${called}.${end}`)),
      ]),
    ),
  );

test("a catch-up map that the controller does not take is told, and has the plain fallback that is named for it", async () => {
  const controller = { mostPolygons: 10, zeroRate: "off" as const };
  const { told, out } = await caughtUp("limited", { controller, extras: ["fallback", "taskdata-4"] });
  const notices = [
    ...told.error.matchAll(
      /Notice: (\S+_CU_\d{4}): (\d+) polygons, the controller takes 10; load its plain fallback (\S+) instead/g,
    ),
  ];
  expect(notices.length).toBeGreaterThan(0);
  // Task data of it would have the planned task's name.
  expect(readdirSync(join(out, "extras"))).toEqual(["fallback"]);
  for (const [, stem, polygons, fallback] of notices) {
    expect(fallback).toBe(`${stem}F`);
    const map = await recordsOf(join(out, "prescriptions", "broadcast"), stem!);
    expect(map.length).toBe(Number(polygons));
    const plain = await recordsOf(join(out, "extras", "fallback"), fallback!);
    expect(plain.length).toBeLessThan(map.length);
  }
  expect((await cli("check", out)).exit).toBe(0);
});

test("without a fallback in the plan the notice says how to get one; without limits nothing is said", async () => {
  const { told, out } = await caughtUp("none", { controller: { mostPolygons: 10 } });
  expect(told.error).toMatch(
    /Notice: \S+_CU_\d{4}: \d+ polygons, the controller takes 10; add “fallback” to the plan's extras/,
  );
  expect(existsSync(join(out, "extras"))).toBe(false);
  const free = await caughtUp("free", {});
  expect(free.told.out).toMatch(/by hand from prescriptions\/broadcast onto an empty stick; delete/);
  expect(free.told.error).toBe("");
});

/** Acres of the polygons of a map at a rate, from its GeoJSON, by the length of a degree at their own latitude. */
function acresAt(path: string, lbPerAc: number): number {
  const { features } = JSON.parse(readFileSync(path, "utf8")) as {
    features: { properties: { RATE_LBAC: number }; geometry: { type: string; coordinates: unknown } }[];
  };
  const ringM2 = (ring: [number, number][]): number => {
    const lat = (ring[0]![1] * Math.PI) / 180;
    const eastM = 111_412.84 * Math.cos(lat) - 93.5 * Math.cos(3 * lat);
    const northM = 111_132.954 - 559.822 * Math.cos(2 * lat) + 1.175 * Math.cos(4 * lat);
    const twice = ring.slice(1).reduce((sum, [x, y], k) => {
      const [x0, y0] = [ring[k]![0] - ring[0]![0], ring[k]![1] - ring[0]![1]];
      return sum + x0 * (y - ring[0]![1]) - (x - ring[0]![0]) * y0;
    }, 0);
    return (twice / 2) * eastM * northM;
  };
  const m2 = features
    .filter((one) => one.properties.RATE_LBAC === lbPerAc)
    .flatMap(({ geometry: { type, coordinates } }) =>
      type === "Polygon" ? [coordinates as [number, number][][]] : (coordinates as [number, number][][][]),
    )
    .flat()
    .reduce((sum, ring) => sum + ringM2(ring), 0);
  return m2 / 4046.8564224;
}

const small = { zeroRate: "small", smallRateLbPerAc: 8 } as const;
/** Nearly all of the 1,904 lb of 11-52-0 went out: the catch-up has ground at 0. */
const MUCH = { "11-52-0": { usedLb: 1800 }, "0-0-60": { usedLb: 600 } };

test("for a controller that must not get a 0 the fallback is written unasked, is what to load, and its pounds are told", async () => {
  const { told, out } = await caughtUp("small", { controller: small }, MUCH);
  const maps = ["LOWFORTY_CU_1152", "LOWFORTY_CU_0060"];
  const [beyondP, beyondK] = maps.map((stem) =>
    Math.round(8 * acresAt(join(out, "prescriptions", "broadcast", `${stem}.geojson`), 0)),
  );
  expect(beyondP).toBeGreaterThan(30);
  expect(told.error).toContain(
    `the spreader's files lay ${beyondP} lb of 11-52-0 and ${beyondK} lb of 0-0-60 more than the maps, by 8 lb/ac in place of 0`,
  );
  const never = `Never load ${maps.join(", ")}: a rate 0 is in it`;
  const names = maps.map((stem) => `${stem}F`).join(", ");
  expect(told.out).toContain(`by hand from extras/fallback onto an empty stick: ${names}, rates in lb/ac`);
  expect(told.out).toContain(never);
  const stick = await cli("stick", out, "--to", join(base, "usb"));
  expect([stick.exit, stick.error.includes(`Copy the files of ${out}/extras/fallback by hand`)]).toEqual([
    2,
    true,
  ]);
  expect(stick.error).toContain(never);
  // 11-52-0 has no planned broadcast map: none is named.
  expect(stick.error).toContain("Their place is that of LOWFORTY_BC_0060, in any form");
  expect(stick.error).not.toContain("prescriptions/broadcast");
});

test("a controller that takes kg/ha alone is sent to the catch-up in kg/ha", async () => {
  const { told, out } = await caughtUp("metric", { controller: { zeroRate: "off", loads: ["kg-ha"] } });
  expect(told.out).toContain(
    "from extras/kg-ha onto an empty stick: LOWFORTY_CU_1152K, LOWFORTY_CU_0060K, rates in kg/ha",
  );
  const lbPerAc = await recordsOf(join(out, "prescriptions", "broadcast"), "LOWFORTY_CU_0060");
  const kgPerHa = await recordsOf(join(out, "extras", "kg-ha"), "LOWFORTY_CU_0060K");
  const most = (of: typeof lbPerAc, column: string) =>
    Math.max(...of.map(({ properties }) => Number(properties[column])));
  // 1 lb = 0.45359237 kg, 1 ac = 0.40468564224 ha.
  const factor = 0.45359237 / 0.40468564224;
  expect(Math.abs(most(kgPerHa, "RATE_KGHA") / factor - most(lbPerAc, "RATE_LBAC"))).toBeLessThan(0.5);
  const stick = await cli("stick", out, "--to", join(base, "usb"));
  expect(stick.error).toContain(`Copy the files of ${out}/extras/kg-ha by hand`);
});

test("in kg/ha alone and never a 0: the fallback, with the display set to lb/ac", async () => {
  const { told } = await caughtUp("metric-small", { controller: { ...small, loads: ["kg-ha"] } }, MUCH);
  expect(told.out).toContain("by hand from extras/fallback onto an empty stick");
  expect(told.out).toContain("Never load LOWFORTY_CU_1152, LOWFORTY_CU_1152K, LOWFORTY_CU_0060");
  expect(told.out).toContain("set the display to lb/ac before loading");
});

test("a controller that takes tasks alone has no catch-up to load, and is told what to do", async () => {
  const { told } = await caughtUp("tasks", { controller: { zeroRate: "off", loads: ["taskdata-4"] } });
  expect(told.out).not.toContain("to be copied by hand");
  expect(told.out).toMatch(
    /takes task data alone .* no catch-up is written as task data: spread it flat by its pounds \(LOWFORTY_CU_1152 [\d,]+ lb of 11-52-0, /,
  );
});
