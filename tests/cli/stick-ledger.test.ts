// A build that was made before the work, put on a stick after it: what the ledger says of its fields comes first.
import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, expect, test } from "vitest";
import { type Plan, writePlan } from "../../src/plan/index.ts";
import { cli } from "../support/in-process-cli.ts";
import { seasonPlanDocument } from "../support/season-plan.ts";
import { smallFarmFiles } from "../support/small-farm.ts";

const base = mkdtempSync(join(tmpdir(), "stick-ledger-"));
afterAll(() => rmSync(base, { recursive: true, force: true }));
const folder = join(base, "spring");
const out = join(base, "maps");
let acres = 0;

beforeAll(async () => {
  mkdirSync(folder);
  for (const [path, bytes] of smallFarmFiles()) writeFileSync(join(folder, path), bytes);
  writeFileSync(join(folder, "plan.json"), writePlan(seasonPlanDocument()));
  expect((await cli("build", folder, "--out", out, "--quiet")).exit).toBe(0);
  acres = JSON.parse(readFileSync(join(out, "result.json"), "utf8")).fields[0].areaAc;
});

const place = async (share: number) => {
  const placed = ["11-52-0", "0-0-60"].map((product) => ({
    ...{ kind: "placed", fieldId: "low-forty", pass: "strip", product },
    ...{ lb: 100 * acres * share, areaAc: acres * share, map: "", revision: "" },
  }));
  writeFileSync(join(base, "placed.json"), JSON.stringify(placed));
  expect((await cli("ledger", folder, "--add", join(base, "placed.json"))).exit).toBe(0);
};
let sticks = 0;
const stick = (from: string, ...more: string[]) => alone(from, "--plan", folder, ...more);
/** Without a plan: the build is all that the command has. */
const alone = async (from: string, ...more: string[]) => {
  const to = join(base, `stick-${sticks++}`);
  mkdirSync(to);
  const told = await cli("stick", from, "--to", to, "--answer", "zero-rate=off", ...more);
  const sheet = readdirSync(to).find((name) => name.startsWith("CAB_"));
  return { ...told, sheet: sheet === undefined ? "" : readFileSync(join(to, sheet), "utf8") };
};

test("nothing is said before the work; part stripped is told with the list and on the sheet; stripped is left out", async () => {
  const before = await stick(out);
  expect([before.exit, before.out.includes("LOOK BEFORE LOADING")]).toEqual([0, false]);
  expect(before.sheet).not.toContain("by the ledger");

  await place(0.4);
  const part = await stick(out);
  expect(part.exit).toBe(0);
  expect(part.out).toMatch(
    /^LOOK BEFORE LOADING:\n {2}Low Forty is part stripped by the ledger, [\d.]+ of [\d.]+ ac, last on .*: its strip maps are of the whole field/m,
  );
  expect(part.sheet).toMatch(/<b>Low Forty is part stripped by the ledger/);
  const again = join(base, "again");
  expect((await cli("build", folder, "--out", again, "--quiet")).exit).toBe(0);
  expect(readFileSync(join(again, "cab.html"), "utf8")).toContain("Low Forty is part stripped by the ledger");

  // The build that was made since has the ledger in it; the one made before has none to tell by.
  const known = await alone(again);
  expect(known.out).toMatch(/^LOOK BEFORE LOADING:\n {2}Low Forty is part stripped by the ledger/m);
  expect((await alone(out)).out).not.toContain("LOOK BEFORE LOADING");

  const rest = join(base, "rest");
  const made = await cli(
    "remainder",
    folder,
    "--done-after",
    "driven:15",
    "--out",
    rest,
    "--answer",
    "zero-rate=off",
  );
  expect([made.exit, made.error]).toEqual([0, ""]);
  const left = await stick(rest);
  expect([left.exit, left.out.includes("part stripped")]).toEqual([0, false]);
  const withoutPlan = await alone(rest);
  expect([withoutPlan.exit, withoutPlan.out.includes("part stripped")]).toEqual([0, false]);

  await place(0.59);
  const whole = await stick(out, "--json");
  expect([whole.exit, JSON.parse(whole.out).error.code]).toEqual([2, "field-stripped"]);
  expect(whole.sheet).toBe("");
  const meant = await stick(out, "--reissue");
  expect([meant.exit, meant.out.includes("Low Forty is stripped by the ledger")]).toEqual([0, true]);

  const late = join(base, "late");
  expect((await cli("build", folder, "--out", late, "--quiet")).exit).toBe(0);
  const refused = await alone(late, "--json");
  expect([refused.exit, JSON.parse(refused.out).error]).toEqual([
    2,
    expect.objectContaining({
      code: "field-stripped",
      message: expect.stringContaining(
        `by the ledger in ${late} nothing is left to strip: Low Forty is stripped`,
      ),
    }),
  ]);
  const anyhow = await alone(late, "--reissue");
  expect([anyhow.exit, anyhow.out.includes("Low Forty is stripped by the ledger")]).toEqual([0, true]);
});

test("for the spreader, what the ledger has as spread is told; of a finished pass no map of a remainder is written", async () => {
  const broadcast = async (...more: string[]) => {
    const to = join(base, `stick-${sticks++}`);
    mkdirSync(to);
    return cli("stick", out, "--to", to, "--pass", "broadcast", "--answer", "zero-rate=off", ...more);
  };
  // What the ledger has in the strips by now is more than the maps have there, and that is said; nothing is spread yet.
  const before = (await broadcast("--plan", folder)).out;
  expect(before).toContain("LOOK BEFORE LOADING:\n  Low Forty: by the ledger more lies in its strips");
  expect(before).not.toContain("lay it there again");
  const spread = [
    { product: "0-0-60", lb: 337, pass: "catch-up" },
    { product: "0-0-60", lb: 63, pass: "broadcast" },
  ].map((one) => ({ kind: "placed", fieldId: "low-forty", areaAc: 5.9, map: "", revision: "", ...one }));
  writeFileSync(join(base, "spread.json"), JSON.stringify(spread));
  expect((await cli("ledger", folder, "--add", join(base, "spread.json"))).exit).toBe(0);
  expect((await broadcast("--plan", folder)).out).toContain(
    "LOOK BEFORE LOADING:\n  Low Forty has 400 lb 0-0-60 spread on 11.8 ac, as catch-up or broadcast, by the plan's ledger: these maps are of the whole field and lay it there again\n",
  );

  expect((await cli("ledger", folder, "--finish", "low-forty")).exit).toBe(0);
  const rest = join(base, "rest of finished");
  const refused = await cli(
    ...["remainder", folder, "--done-after", "driven:15", "--out", rest, "--answer", "zero-rate=off"],
  );
  expect([refused.exit, refused.error]).toEqual([2, expect.stringContaining("is finished in Low Forty")]);
  expect(readdirSync(base)).not.toContain("rest of finished");
});

test("a build that is older than the plan is asked about before anything is written; meant all the same it is told first", async () => {
  // A season of its own: what the other tests' ledger has does not matter here.
  const [changed, before] = [join(base, "changed"), join(base, "before")];
  mkdirSync(changed);
  for (const [path, bytes] of smallFarmFiles()) writeFileSync(join(changed, path), bytes);
  writeFileSync(join(changed, "plan.json"), writePlan(seasonPlanDocument()));
  expect((await cli("build", changed, "--out", before, "--quiet")).exit).toBe(0);
  const plan = seasonPlanDocument();
  const written = (now: Plan) => writeFileSync(join(changed, "plan.json"), writePlan(now));
  // A booking changes no map.
  const line = {
    date: "2027-03-01",
    kind: "booked",
    product: "0-0-60",
    supplier: "elevator",
    tons: 4,
  } as const;
  written({ ...plan, order: { ...plan.order, book: [...(plan.order?.book ?? []), line] } });
  expect((await alone(before, "--plan", changed)).exit).toBe(0);
  rmSync(join(changed, "ledger.txt"));
  written({ ...plan, split: { ...plan.split, capLbPerAc: 0.5 * plan.split.capLbPerAc } });
  const asked = await alone(before, "--plan", changed, "--json");
  expect([asked.exit, JSON.parse(asked.out).questions]).toEqual([
    3,
    [
      expect.objectContaining({
        key: "older-build",
        seen: expect.stringContaining(`${before} is older than the plan: ${changed} changed since`),
      }),
    ],
  ]);
  expect(asked.sheet).toBe("");
  expect(readdirSync(changed)).not.toContain("ledger.txt");
  const meant = await alone(before, "--plan", changed, "--answer", "older-build=write");
  expect(meant.exit).toBe(0);
  expect(meant.error).toContain("LOOK: These maps are older than the plan");
  expect(meant.out).toMatch(/^LOOK BEFORE LOADING:\n {2}These maps are older than the plan: /m);
  expect(meant.sheet).toContain("These maps are older than the plan");
});
