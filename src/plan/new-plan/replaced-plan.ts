import type { Notice } from "../../errors/index.ts";
import { counted } from "../../units/index.ts";
import type { Plan } from "../document/document-types.ts";

type Json = Readonly<Record<string, unknown>>;

/** What no two plans need have alike, or what is told in a way of its own. */
const TOLD_APART = ["format", "name", "date", "sources", "fields"];

/**
 * What a plan that was replaced has and the new one has not: parts, figures, fields. Its bytes are read as they are, whatever
 * version or fault they have. `path` is where it stood, `kept` where it stands now.
 */
export function replacedPlan(
  before: Uint8Array,
  after: Plan,
  { path, kept }: { readonly path: string; readonly kept: string },
): Notice {
  const sentences = [`${path} was replaced; the one that stood there is kept as ${kept}`];
  const old = asObject(before);
  if (old !== null) {
    const now: Json = { ...after };
    const parts = Object.keys(old).filter((key) => !TOLD_APART.includes(key));
    const gone = parts.filter((key) => now[key] === undefined).map((key) => partInWords(key, old[key]));
    const other = parts
      .filter((key) => now[key] !== undefined && !isSame(now[key], old[key]))
      .map((key) => partInWords(key, old[key]));
    const [oldFields, newFields] = [fieldsOf(old), fieldsOf(now)];
    const lost = [...oldFields.keys()].filter((id) => !newFields.has(id)).map((id) => `the field ${id}`);
    const changed = [...oldFields]
      .filter(([id, field]) => newFields.has(id) && !isSame(newFields.get(id), field))
      .map(([id]) => `the field ${id}`);
    const more = [...newFields.keys()].filter((id) => !oldFields.has(id)).map((id) => `the field ${id}`);
    if (gone.length + lost.length > 0)
      sentences.push(`It has, and the new one has not: ${[...gone, ...lost].join(", ")}`);
    if (other.length + changed.length > 0)
      sentences.push(`It says otherwise of: ${[...other, ...changed].join(", ")}`);
    if (more.length > 0) sentences.push(`The new one has, and it has not: ${more.join(", ")}`);
  }
  sentences.push("Type in again what still holds, or give it its name plan.json back");
  return { code: "plan-replaced", message: sentences.join(". "), where: kept };
}

function asObject(bytes: Uint8Array): Json | null {
  try {
    const value: unknown = JSON.parse(new TextDecoder().decode(bytes));
    return isObject(value) ? value : null;
  } catch {
    return null;
  }
}

const isObject = (value: unknown): value is Json =>
  typeof value === "object" && value !== null && !Array.isArray(value);

/** A key of the plan with how much stands in it: `order (5 lines of terms, 12 lines of book)`. */
function partInWords(key: string, value: unknown): string {
  if (key === "order" && isObject(value)) {
    const lists = Object.entries(value).flatMap(([name, list]) =>
      Array.isArray(list) ? [`${counted(list.length, "line")} of ${name}`] : [],
    );
    return lists.length === 0 ? key : `${key} (${lists.join(", ")})`;
  }
  if (key === "pricesUsdPerTon" && isObject(value))
    return `${key} (${counted(Object.keys(value).length, "product")})`;
  return key;
}

/** Fields of a plan by id; one without an id is left out. */
function fieldsOf({ fields }: Json): ReadonlyMap<string, unknown> {
  const list: readonly unknown[] = Array.isArray(fields) ? fields : [];
  return new Map(
    list.flatMap((one) => (isObject(one) && typeof one.id === "string" ? [[one.id, one] as const] : [])),
  );
}

/** Whether two values of JSON say the same, whatever the order of their keys. */
function isSame(one: unknown, two: unknown): boolean {
  if (Array.isArray(one) && Array.isArray(two))
    return one.length === two.length && one.every((value, i) => isSame(value, two[i]));
  if (!isObject(one) || !isObject(two)) return one === two;
  const keys = new Set([...Object.keys(one), ...Object.keys(two)]);
  return [...keys].every((key) => isSame(one[key], two[key]));
}
