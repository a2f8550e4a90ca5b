import { acresText, counted, type InputFacts, type InputReading, inputFacts, sum } from "#core";

/** What a file can be of a plan, as the list of files says it. */
export const ROLE_WORDS: Readonly<Record<string, string>> = {
  boundary: "boundary",
  zones: "zones",
  rates: "rates",
  exclusions: "places to keep clear of",
  unused: "not used",
  guidance: "guidance line",
  samples: "soil samples",
  applied: "as applied",
  prescription: "prescription",
  several: "several things",
  unclear: "not clear yet",
};

/** What a file was read as and what was found in it, in words. */
export function whatItIs(reading: InputReading): { as: string; found: string } {
  const facts = inputFacts(reading);
  const rows = reading.item?.samples?.rows.length;
  const isOpen = facts.samples === 0 && rows !== undefined;
  const hasPlaces = !reading.questions.some(({ key }) => key === "join-points");
  const known = hasPlaces ? foundIn(facts) : [...foundIn({ ...facts, crs: "" }), "no positions"];
  const isBare = reading.notices.some(({ code }) => code === "no-attributes");
  const found = [
    ...(isOpen ? [counted(rows, "row")] : []),
    ...known,
    ...(isBare ? ["no .dbf: names and columns are missing"] : []),
  ];
  return { as: ROLE_WORDS[String(facts.role)] ?? String(facts.role), found: found.join(", ") };
}

function foundIn(facts: InputFacts): string[] {
  const parts: string[] = [];
  const many = (count: unknown, one: string, more?: string) => {
    if (typeof count === "number" && count > 0) parts.push(counted(count, one, more));
  };
  many(facts.samples, "row read", "rows read");
  if (!("samples" in facts)) many(facts.features, "shape");
  many(facts.holes, "hole");
  many(facts.skipped, "left out", "left out");
  const acres = (facts.acres ?? []) as readonly (number | null)[];
  const areaAc = sum(acres.map((one) => one ?? 0));
  if (areaAc > 0) parts.push(`${acresText(areaAc, "us", 2)} ac`);
  if (typeof facts.depth === "string" && facts.depth !== "") parts.push(`depth ${facts.depth}`);
  if (facts.crs === "unknown") parts.push("coordinate system not known");
  else if (typeof facts.crs === "string" && facts.crs !== "")
    parts.push(`${SYSTEMS[facts.crs] ?? facts.crs}, ${sayer(facts.crsFrom)}`);
  return parts;
}

/** A coordinate system in words where it has a short name. */
const SYSTEMS: Readonly<Record<string, string>> = {
  "OGC:CRS84": "degrees, WGS 84",
  "EPSG:4326": "degrees, WGS 84",
  "EPSG:4269": "degrees, NAD 83",
};

const SAYERS: Readonly<Record<string, string>> = {
  headings: "by the headings",
  answer: "as answered",
  ".prj": "by the .prj",
  standard: "as the format has it",
};
const sayer = (from: unknown): string => SAYERS[String(from)] ?? `by ${String(from)}`;
