import { z } from "zod";
import { InputError } from "../../errors/index.ts";
import { readJson } from "../../formats/index.ts";
import { PlanDocument } from "./document.ts";
import type { Plan, PlanField } from "./document-types.ts";
import { checkProducts } from "./field-products.ts";
import { keyTwice } from "./key-twice.ts";
import { migrate } from "./migrate.ts";
import { needsSamples, samplesPaths } from "./samples-paths.ts";
import { seasonReferenceFault } from "./season-references.ts";

/**
 * Read plan.json. An older format is brought up to date in memory (the file stays as it is); a newer one, an
 * unknown key, a key that stands twice or a value out of range is refused with the path of each. `name` names the file in messages.
 * Throws `plan-not-valid`, and what `readJson`, `migrate` and `checkProducts` throw.
 */
export function readPlan(bytes: Uint8Array, name: string): Plan {
  const json = readJson(bytes, name);
  const twice = keyTwice(new TextDecoder().decode(bytes));
  if (twice !== null) {
    const remedy = "Keep the one that is meant; a reader of JSON would take the last of them.";
    throw new InputError("plan-not-valid", `${name}: ${twice} stands there twice.`, remedy);
  }
  const migrated = migrate(json, name);
  const parsed = PlanDocument.safeParse(migrated);
  if (!parsed.success) {
    throw new InputError(
      "plan-not-valid",
      `${name}:\n${faultsWithValues(parsed.error, migrated)}`,
      "Mend each place named above; docs/plan.schema.json lists every key and its unit.",
    );
  }
  checkReferences(parsed.data, name);
  return parsed.data;
}

/** Letters of a value that are shown. */
const SHOWN = 40;

/** Each fault with the value that stands at its place, where that is one value. */
const faultsWithValues = (error: z.ZodError, json: unknown): string =>
  error.issues
    .toSorted((a, b) => a.path.length - b.path.length)
    .map((issue) => {
      const value = valueAt(json, issue.path);
      const seen = shownValue(value);
      const isAbsent =
        value === undefined && (issue.code === "invalid_value" || issue.code === "invalid_union");
      const ofIt = seen === "" ? (isAbsent ? "; it is not there" : "") : `; it has ${seen}`;
      const message = `${issue.message}${ofIt}`;
      return z.prettifyError(new z.ZodError([{ ...issue, message }]));
    })
    .join("\n");

const valueAt = (json: unknown, path: readonly PropertyKey[]): unknown =>
  path.reduce<unknown>(
    (at, key) =>
      typeof at === "object" && at !== null ? (at as Record<PropertyKey, unknown>)[key] : undefined,
    json,
  );

function shownValue(value: unknown): string {
  if (value === undefined || (typeof value === "object" && value !== null)) return "";
  const text = JSON.stringify(value);
  return text.length > SHOWN ? `${text.slice(0, SHOWN)}…` : text;
}

/** plan.json as text: two spaces, a line end at the end. */
export const writePlan = (plan: Plan): Uint8Array =>
  new TextEncoder().encode(`${JSON.stringify(plan, null, 2)}\n`);

function checkReferences(plan: Plan, name: string): void {
  const refuse = (message: string, remedy: string): never => {
    throw new InputError("plan-not-valid", `${name}: ${message}`, remedy);
  };
  const unique = (what: string, ids: readonly string[]) => {
    const twice = ids.find((id, i) => ids.indexOf(id) !== i);
    if (twice !== undefined) refuse(`two ${what} are called “${twice}”.`, "Give each its own.");
  };
  unique(
    "fields",
    plan.fields.map((field) => field.id.toLowerCase()),
  );
  unique(
    "bins",
    plan.rig.bins.map((bin) => bin.id.toLowerCase()),
  );
  unique(
    "bins' products",
    plan.rig.bins.map((bin) => bin.product),
  );
  unique(
    "products of your own",
    (plan.products ?? []).map((product) => product.id),
  );
  unique(
    "blends",
    (plan.blends ?? []).map((blend) => blend.id),
  );
  checkProducts(plan, name);
  unique(
    "sources of one kind",
    plan.sources.map((source) => `${source.as} ${source.path}`),
  );
  const fault = seasonReferenceFault(plan);
  if (fault !== null) refuse(...fault);
  for (const { source } of plan.exclusions ?? []) {
    if (source === undefined) continue;
    if (!plan.sources.some((one) => one.path === source && one.as === "exclusions")) {
      refuse(
        `an exclusion comes from “${source}”, which sources does not list as exclusions.`,
        "Add it to sources.",
      );
    }
  }
  for (const field of plan.fields) {
    if (field.samples === undefined && needsSamples(field)) {
      refuse(
        `field ${field.id} has no samples.`,
        "Name their source, or give the field's rates in needFrom.",
      );
    }
    const uses = [
      ...field.boundary.map((shape) => ["boundary", shape.source] as const),
      ["guidance", field.guidance.source] as const,
      ...samplesPaths(field).map((path) => ["samples", path] as const),
      ...zoneUses(field),
    ];
    for (const [as, path] of uses) {
      if (!plan.sources.some((source) => source.path === path && source.as === as)) {
        refuse(
          `field ${field.id} takes its ${as} from “${path}”, which sources does not list.`,
          "Add it to sources.",
        );
      }
    }
  }
}

function zoneUses(field: PlanField): (readonly ["zones" | "rates", string])[] {
  const { needFrom, yieldZones } = field;
  return [
    ...(needFrom?.kind === "zones" ? [["zones", needFrom.source] as const] : []),
    ...(needFrom?.kind === "rates" ? [["rates", needFrom.source] as const] : []),
    ...(yieldZones ? [["zones", yieldZones.source] as const] : []),
  ];
}
