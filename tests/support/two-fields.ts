import { sha256Hex } from "../../src/formats/index.ts";
import type { Plan, PlanController } from "../../src/plan/index.ts";
import { planWithForms } from "./extra-forms.ts";
import { labCsv, SAMPLES, smallFarmFiles } from "./small-farm.ts";

const utf8 = new TextEncoder();

/** The small farm (invented) and a twin of its field with soil of its own: ids low-forty and twin. */
export function twoFields(
  more: Partial<Plan>,
  controller: PlanController,
): { readonly plan: Plan; readonly files: ReadonlyMap<string, Uint8Array> } {
  const samples = (field: string, k: number) =>
    utf8.encode(
      labCsv(
        SAMPLES.map(([id, lon, lat, p, ...rest]) => [id!, lon!, lat!, Number(p) + k, ...rest, field]),
        "id,lon,lat,P M3 ppm,K M3 ppm,CEC meq/100g,field",
      ),
    );
  const files = new Map([
    ...smallFarmFiles(),
    ["lab.csv", samples("low-forty", 0)],
    ["twin.csv", samples("twin", 3)],
  ] as const);
  const plan = planWithForms(controller);
  const hashed = (path: string) => sha256Hex(files.get(path)!);
  const sources = plan.sources.map((one) => ({ ...one, sha256: hashed(one.path) }));
  const lab = sources.find(({ path }) => path === "lab.csv")!;
  const whole: Plan = {
    ...plan,
    extras: ["fallback", "taskdata-4"],
    ...more,
    sources: [...sources, { ...lab, path: "twin.csv", sha256: hashed("twin.csv") }],
    fields: [plan.fields[0]!, { ...plan.fields[0]!, id: "twin", name: "Twin", samples: "twin.csv" }],
  };
  return { plan: whole, files };
}
