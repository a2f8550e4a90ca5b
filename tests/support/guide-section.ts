import { type Guide, guideStatus } from "../../src/agronomy/index.ts";

/** The part of docs/agronomy.md about one guide, from its data: a test keeps the two alike. */
export function guideSection(guide: Guide): string {
  const sources = Object.keys(guide.sources);
  const numberOf = (key: string): string => `[${sources.indexOf(key) + 1}]`;
  const rules = guide.rules.map(
    (rule) =>
      `${rule.crop} ${rule.nutrient} (${rule.methods.join(", ")}${rule.yearsCovered > 1 ? `; ${rule.yearsCovered} years` : ""})`,
  );
  const options = guide.options.map(
    (option) => `\`${option.key}=${option.choices.join("|")}\`, needed for ${option.nutrients.join(" and ")}`,
  );
  const lines = [
    `## ${guide.id}`,
    "",
    `${guide.title}: ${guide.publication}. ${guide.region}. Edition: ${guide.edition}. Status: **${guideStatus(guide)}**.`,
    ...(guide.supersededBy === null ? [] : [`Superseded by ${guide.supersededBy}.`]),
    "",
    `- Tests in ${guide.testUnit}, elemental; depth ${guide.depthIn} in. (${guide.depthStatus}).`,
    `- Rounding: ${guide.rounding.testTo === null ? "tests are not rounded" : `tests to ${guide.rounding.testTo} ${guide.testUnit}`}; rates to ${guide.rounding.rateToLbPerAc} lb (${guide.rounding.status}: ${guide.rounding.note}).`,
    `- Rules: ${rules.join("; ")}.`,
    `- Options: ${options.length === 0 ? "none" : options.join("; ")}.`,
    "",
    "| figure | value | unit | what | status | source |",
    "|---|---|---|---|---|---|",
    ...Object.entries(guide.constants).map(
      ([id, constant]) =>
        `| ${id} | ${constant.value} | ${constant.unit} | ${constant.what} | ${constant.status} | ${numberOf(constant.source)} |`,
    ),
    "",
    ...sources.map((key) => `${numberOf(key)} ${guide.sources[key]}.  `),
    "",
    "Traps:",
    "",
    ...guide.traps.map((trap) => `- ${trap}`),
    "",
  ];
  return lines.join("\n");
}
