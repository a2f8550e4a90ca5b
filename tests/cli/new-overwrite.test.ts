// `new` once more into a folder whose plan has been typed into since: nothing of that is lost, and it is told.
import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, expect, test } from "vitest";
import { cli } from "../support/in-process-cli.ts";

const SAMPLE = "sample-data/single-field";
const inputs = ["boundary.zip", "guidance.geojson", "soil-tests.csv"].map((name) => `${SAMPLE}/${name}`);
const answers = ["rows=12", "row-spacing-in=30", "crop=corn", "yield=200", "guide=tri-state-2020"];
const base = mkdtempSync(join(tmpdir(), "new-overwrite-"));
afterAll(() => rmSync(base, { recursive: true, force: true }));
const folder = join(base, "farm");
const path = (name: string) => join(folder, name);
const made = (cap: number, ...more: string[]) =>
  cli(
    ...["new", folder, ...inputs, ...[...answers, `cap=${cap}`].flatMap((one) => ["--answer", one])],
    ...more,
  );

test("the plan that was there is kept beside the new one, and what it has more is told", async () => {
  expect((await made(180)).exit).toBe(0);
  const plan = JSON.parse(readFileSync(path("plan.json"), "utf8"));
  const line = { date: "2027-01-20", kind: "booked", product: "0-0-60", supplier: "north", tons: 4 };
  const typed = {
    ...plan,
    tender: { count: 1, lb: 18_000, tripMin: 80, reachedAt: "both-ends" },
    order: { terms: [{ product: "0-0-60", supplier: "north" }], book: [line, { ...line, tons: 2 }] },
    pricesUsdPerTon: { "0-0-60": 455, "11-52-0": 812 },
    fields: [{ ...plan.fields[0], id: "north-kettle-west" }],
  };
  const text = JSON.stringify(typed);
  writeFileSync(path("plan.json"), text);

  const refused = await made(200);
  expect(refused.exit).toBe(2);
  expect(refused.error).toContain("--overwrite makes the plan anew and keeps the old one beside it");
  expect(readFileSync(path("plan.json"), "utf8")).toBe(text);

  const told = JSON.parse((await made(200, "--overwrite", "--json")).out);
  expect(JSON.parse(readFileSync(path("plan.json"), "utf8"))).toEqual(told.plan);
  expect(readFileSync(path("plan-before-1.json"), "utf8")).toBe(text);
  const { id } = plan.fields[0];
  expect(told.notices[0]).toEqual({
    code: "plan-replaced",
    message: `${path("plan.json")} was replaced; the one that stood there is kept as ${path("plan-before-1.json")}. It has, and the new one has not: tender, order (1 line of terms, 2 lines of book), pricesUsdPerTon (2 products), the field north-kettle-west. It says otherwise of: split. The new one has, and it has not: the field ${id}. Type in again what still holds, or give it its name plan.json back`,
    where: path("plan-before-1.json"),
  });
});

test("the same plan again keeps nothing more; another does, under the next name; no plan at all is kept as well", async () => {
  const names = () => readdirSync(folder).filter((name) => name.startsWith("plan"));
  const same = await made(200, "--overwrite");
  expect(same.error).not.toContain("was replaced");
  expect(names()).toEqual(["plan-before-1.json", "plan.json"]);
  writeFileSync(path("plan.json"), "{ half a pl");
  const told = await made(200, "--overwrite");
  expect(told.error).toContain(
    `kept as ${path("plan-before-2.json")}. Type in again what still holds, or give it its name plan.json back`,
  );
  expect(readFileSync(path("plan-before-2.json"), "utf8")).toBe("{ half a pl");
  expect(names()).toEqual(["plan-before-1.json", "plan-before-2.json", "plan.json"]);
});

test("next season's plan over another is kept the same way, and --help says so", async () => {
  const next = join(base, "next");
  const from = ["new", next, "--from", folder, "--answer", "crop=corn", "--answer", "yield=200"];
  const first = await cli(...from);
  expect(first.exit, first.error).toBe(0);
  const plan = JSON.parse(readFileSync(join(next, "plan.json"), "utf8"));
  writeFileSync(join(next, "plan.json"), JSON.stringify({ ...plan, pricesUsdPerTon: { "0-0-60": 455 } }));
  const told = await cli(...from, "--overwrite", "--json");
  expect(JSON.parse(told.out).notices[0]).toMatchObject({
    code: "plan-replaced",
    message: expect.stringContaining("has not: pricesUsdPerTon (1 product). Type"),
  });
  expect((await cli("new", "--help")).out).toContain("kept beside the new one, as plan-before-1.json");
});

test("a plan is called by its folder, also where that is given as the place one stands in", async () => {
  const here = join(base, "north farm");
  mkdirSync(here);
  const told = await cli(
    ...["new", `${here}/.`, ...inputs, ...[...answers, "cap=180"].flatMap((one) => ["--answer", one])],
  );
  expect(told.exit).toBe(0);
  expect(JSON.parse(readFileSync(join(here, "plan.json"), "utf8")).name).toBe("north farm");
});
