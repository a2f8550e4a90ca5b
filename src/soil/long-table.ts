import { type FileAnswers, unitOf } from "../formats/index.ts";
import { readHeadings, unusedOf } from "./chosen-columns.ts";
import { readDepth } from "./depth.ts";
import { methodOf, readHeading, saysMoist } from "./lab-heading.ts";
import { type LabResult, type Pivoted, pivotResults } from "./pivot-results.ts";
import type { LabHeading, LabMeaning, SampleFile } from "./sample-types.ts";

/** Whether a table has one row a test: a column that names the test and one with its value. */
export function isLongTable(file: Pick<SampleFile, "headings" | "chosen">): boolean {
  const means = new Set(readHeadings(file).map((heading) => heading.means));
  return means.has("analyte") && means.has("value") && !means.has("P") && !means.has("K");
}

/** Tests that are read from the rows, or shown (see `sampleRecords`). */
const READ_TESTS: readonly LabMeaning[] = ["P", "K", "CEC", "pH", "bufferPH", "OM"];

/**
 * A table with one row a test as one with one row a sample. Tests other than P, K and CEC are passed over; `unused` names
 * those that nothing is taken from, behind the headings of which that holds.
 */
export function pivotLongTable(
  file: SampleFile,
  answers: FileAnswers,
): Pivoted & { readonly unused: readonly string[] } {
  const headings = readHeadings(file);
  const at = (means: LabMeaning): LabHeading | undefined =>
    headings.find((heading) => heading.means === means);
  const results: LabResult[] = [];
  const passedOver = new Set<string>();
  for (const { line, cells, at: place } of file.rows) {
    const cell = (means: LabMeaning): string => cells[at(means)?.column ?? -1]?.trim() ?? "";
    const analyte = readHeading(cell("analyte"), 0);
    const test = analyte.means;
    if (!READ_TESTS.includes(test) && cell("analyte") !== "") passedOver.add(cell("analyte"));
    if (test !== "P" && test !== "K" && test !== "CEC") continue;
    const method = saysMoist(cell("analyte")) ? `${cell("method")} moist`.trim() : cell("method");
    const [top, bottom] = [cell("depthTop"), cell("depthBottom")];
    const depthText = top !== "" || bottom !== "" ? `${top}-${bottom}` : cell("depth");
    const depthUnit = unitOf((at("depthTop") ?? at("depth"))?.heading ?? "");
    const unit = depthUnit === "in" || depthUnit === "cm" ? depthUnit : null;
    const hasPlace = at("longitude") !== undefined && at("latitude") !== undefined;
    results.push({
      line,
      sample: cell("sample") || cell("labNumber"),
      field: at("field") === undefined ? null : cell("field"),
      at: place ?? (hasPlace ? [cell("longitude"), cell("latitude")] : null),
      test,
      text: cell("value"),
      unit: cell("unit") || (analyte.unit ?? ""),
      method: methodOf(test, method) ?? analyte.method,
      code: method,
      depth: readDepth(depthText, unit) ?? "",
      depthText,
    });
  }
  const { name, one = "line", encoding = "UTF-8", placed } = file;
  const source = { name, one, encoding, ...(placed === undefined ? {} : { placed }) };
  return { ...pivotResults(source, results, answers), unused: [...unusedOf(headings), ...passedOver] };
}
