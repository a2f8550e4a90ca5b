// Catch-up and broadcast maps of ground that the ledger has as spread already.
import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, expect, test } from "vitest";
import { writePlan } from "../../src/plan/index.ts";
import { cli } from "../support/in-process-cli.ts";
import { seasonPlanDocument } from "../support/season-plan.ts";
import { smallFarmFiles } from "../support/small-farm.ts";

const base = mkdtempSync(join(tmpdir(), "catch-up-spread-"));
afterAll(() => rmSync(base, { recursive: true, force: true }));
const folder = join(base, "spring");

interface CatchUp {
  readonly product: string;
  readonly totalLb: number;
}
/** Catch-up maps of a strip that got half of its potash. */
const applied = (...more: string[]) => cli("applied", folder, "--tickets", join(base, "used.json"), ...more);
const mapsNow = async (): Promise<readonly CatchUp[]> =>
  JSON.parse((await applied("--json")).out).fields[0].catchUp.prescriptions;
const enter = async (share: number, maps: readonly CatchUp[]): Promise<void> => {
  const events = maps.map(({ product, totalLb }) => ({
    ...{ kind: "placed", fieldId: "low-forty", pass: "catch-up", product },
    ...{ lb: share * totalLb, areaAc: 20 * share, map: "", revision: "" },
  }));
  writeFileSync(join(base, "spread.json"), JSON.stringify(events));
  expect((await cli("ledger", folder, "--add", join(base, "spread.json"))).exit).toBe(0);
};
let first: readonly CatchUp[];

beforeAll(async () => {
  mkdirSync(folder);
  for (const [path, bytes] of smallFarmFiles()) writeFileSync(join(folder, path), bytes);
  writeFileSync(join(folder, "plan.json"), writePlan(seasonPlanDocument()));
  writeFileSync(
    join(base, "used.json"),
    JSON.stringify({ "11-52-0": { usedLb: 1_904 }, "0-0-60": { usedLb: 576 } }),
  );
  expect((await applied("--out", join(base, "first"))).exit).toBe(0);
  first = (await mapsNow()).filter(({ totalLb }) => totalLb > 0);
  expect(first.map(({ product }) => product)).toContain("0-0-60");
});

test("a part that is spread: the map of the whole field is made and told to lay it there again", async () => {
  await enter(0.4, first);
  const again = await applied("--out", join(base, "part"));
  expect(again.exit).toBe(0);
  expect(await mapsNow()).toEqual(first);
  expect(again.out).toContain("THE CATCH-UP IS OF THE WHOLE FIELD AND LAYS IT THERE AGAIN");
  const rest = await cli("remainder", folder, "--field", "low-forty", "--done-after", "driven:5");
  expect(rest.error).toContain("A CATCH-UP FEEDS WHAT WAS SKIPPED, and these maps would lay it there again");
});

test("all that is missing is spread: no map is written again, and the planned one is not to be spread", async () => {
  await enter(0.6, first);
  const out = join(base, "whole");
  const again = await applied();
  expect([again.exit, await mapsNow()]).toEqual([0, []]);
  expect(again.out).toMatch(
    /Low Forty has [^:]* spread on 20\.0 ac, as catch-up or broadcast, by the ledger: no catch-up is made again/,
  );
  expect(again.out).toContain("LOWFORTY_BC_0060 is not to be spread any more: delete LOWFORTY_BC_0060");
  const refused = await applied("--out", out);
  expect([refused.exit, refused.error.includes("no catch-up is made again")]).toEqual([2, true]);
  expect(readdirSync(base)).not.toContain("whole");
});

test("build and the spreader's sheet tell what is spread, until the pass is entered as finished", async () => {
  const out = join(base, "maps");
  expect((await cli("build", folder, "--out", out, "--quiet")).exit).toBe(0);
  const messages = () =>
    JSON.parse(readFileSync(join(out, "result.json"), "utf8")).notices.map(
      ({ message }: { message: string }) => message,
    );
  const words =
    /Low Forty has [^:]* spread on 20\.0 ac, as catch-up or broadcast, by the ledger: its broadcast maps are of the whole field and lay it there again/;
  expect(messages()).toContainEqual(expect.stringMatching(words));
  expect(readFileSync(join(out, "spreader.html"), "utf8")).toMatch(words);
  writeFileSync(
    join(base, "done.json"),
    JSON.stringify([{ kind: "finished", fieldId: "low-forty", pass: "broadcast" }]),
  );
  expect((await cli("ledger", folder, "--add", join(base, "done.json"))).exit).toBe(0);
  expect((await cli("build", folder, "--out", out, "--overwrite", "--quiet")).exit).toBe(0);
  expect(messages().join()).not.toContain("lay it there again");
  expect(readdirSync(out)).not.toContain("spreader.html");
});
