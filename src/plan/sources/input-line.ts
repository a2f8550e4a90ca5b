import { type InputFacts, inputFacts } from "./input-facts.ts";
import type { InputReading } from "./read-input.ts";

/** What was read, in lines for people: name, role, counts, sizes, coordinate system and how it is known, units, method. */
export function inputLines(reading: InputReading): string[] {
  const facts = inputFacts(reading);
  const listed = (facts.layers ?? facts.kinds) as Readonly<Record<string, InputFacts>> | undefined;
  if (listed === undefined) return [`${reading.name}: ${described(facts)}`];
  return [
    `${reading.name}: ${Object.keys(listed).length} ${facts.layers === undefined ? "kinds of shape" : "layers"}`,
    ...Object.entries(listed).map(([name, own]) => `  ${name}: ${described(own)}`),
  ];
}

function described(facts: InputFacts): string {
  const parts: string[] = [];
  const { role, rolesFit } = facts as { role?: string; rolesFit?: readonly string[] };
  if (role === "unclear")
    parts.push(rolesFit?.length ? `${rolesFit.join(" or ")}, add --as` : "nothing says what it is for");
  else if (role !== undefined) parts.push(role);
  for (const key of ["features", "samples", "points", "rows"] as const) {
    if (typeof facts[key] === "number" && !(key === "features" && "points" in facts))
      parts.push(`${facts[key]} ${facts[key] === 1 ? key.slice(0, -1) : key}`);
  }
  if (Number(facts.skipped) > 0) parts.push(`${facts.skipped} left out`);
  const acres = (facts.acres ?? facts.fieldAcres) as readonly (number | null)[] | undefined;
  if (acres?.some((area) => area !== null))
    parts.push(
      `${acres
        .slice(0, 6)
        .map((area) => area?.toFixed(2))
        .join(", ")}${acres.length > 6 ? ", ..." : ""} ac`,
    );
  for (const test of ["P", "K"] as const) {
    const found = facts[test] as Readonly<Record<string, unknown>> | undefined;
    if (found)
      parts.push(
        `${test} ${found.readUnit ? `${found.readUnit} as ` : ""}ppm by ${found.method}, mean ${Number(found.mean).toFixed(1)}`,
      );
  }
  const cec = facts.CEC as { mean?: number | null } | undefined;
  if (typeof cec?.mean === "number") parts.push(`CEC mean ${cec.mean.toFixed(1)} meq/100 g`);
  if (facts.depth) parts.push(`depth ${facts.depth}`);
  const rates = facts.rates as { column?: string; readUnit?: string } | undefined;
  if (rates) parts.push(`rates ${rates.column ? `in ${rates.column}, ` : ""}${rates.readUnit ?? "lb/ac"}`);
  if (facts.grid) parts.push("rates by grid, mg/m2 as lb/ac");
  if (typeof facts.totalLb === "number") parts.push(`${facts.totalLb.toFixed(1)} lb in all`);
  if (typeof facts.appliedLb === "number")
    parts.push(
      `${facts.appliedLb.toFixed(1)} lb on ${Number(facts.coveredAcres).toFixed(2)} ac in ${facts.passes} passes`,
    );
  if (facts.crs === "unknown") parts.push("coordinate system not known");
  else if (facts.crs) parts.push(`${facts.crs} by ${facts.crsFrom}`);
  if (facts.encoding && facts.encoding !== "UTF-8") parts.push(`texts in ${facts.encoding}`);
  const unused = facts.unused as readonly string[] | undefined;
  if (unused?.length) parts.push(`not used: ${unused.join(", ")}`);
  return parts.join("; ");
}
