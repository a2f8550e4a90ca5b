import { InputError } from "../errors/index.ts";
import {
  type FileAnswers,
  readXml,
  type XmlElement,
  xmlBelow,
  xmlChild,
  xmlTextOf,
} from "../formats/index.ts";
import { isLonLat, type Point } from "../geo/index.ts";
import { readDepth } from "./depth.ts";
import { methodOf, readHeading } from "./lab-heading.ts";
import { methodOfCode } from "./method-codes.ts";
import { type LabResult, type Pivoted, pivotResults } from "./pivot-results.ts";

/** Whether an XML text begins like one of the two open layouts of lab results. */
export function isLabXml(root: XmlElement): boolean {
  return /^(ModusResult|Standard_XML_Data)$/i.test(root.name);
}

/**
 * Lab results in XML: the open standard's first version (ModusResult) or the second open layout (Standard_XML_Data),
 * read leniently, as one row a sample; features are counted from 1. Extractants come from the method codes.
 * Throws what `readXml` throws, `not-lab-results`, `no-rows`, and the errors of `pivotResults`.
 */
export function readLabXml(bytes: Uint8Array, name: string, answers: FileAnswers): Pivoted {
  const root = readXml(bytes, name);
  if (!isLabXml(root)) {
    const message = `${name}: <${root.name.slice(0, 40)}> holds no lab results that are read`;
    throw new InputError("not-lab-results", message, "Ask the lab for CSV.");
  }
  const results = /^Modus/i.test(root.name) ? modusResults(root, name) : standardResults(root);
  if (!results.some(({ test }) => test === "P" || test === "K" || test === "CEC")) {
    throw new InputError(
      "no-rows",
      `${name} holds no result for P or K`,
      "Choose the file with the soil tests.",
    );
  }
  const hasPlaces = results.some((result) => result.at !== null);
  const placed = { coordinateSystem: "OGC:CRS84", coordinateSystemFrom: "standard" as const };
  const source = { name, one: "feature" as const, encoding: "UTF-8" };
  return pivotResults(hasPlaces ? { ...source, placed } : source, results, answers);
}

function modusResults(root: XmlElement, name: string): LabResult[] {
  let record = 0;
  return xmlBelow(root, "EventSamples").flatMap((event) => {
    const depths = new Map(
      xmlBelow(event, "DepthRef").map((ref) => {
        const text = `${xmlTextOf(ref, "StartingDepth")}-${xmlTextOf(ref, "EndingDepth")}`;
        const unit = /cm/i.test(xmlTextOf(ref, "DepthUnit"))
          ? "cm"
          : /^in/i.test(xmlTextOf(ref, "DepthUnit"))
            ? "in"
            : null;
        return [ref.attributes.get("DepthID") ?? "", { depth: readDepth(text, unit) ?? "", text }] as const;
      }),
    );
    return xmlBelow(event, "SoilSample").flatMap((sample) => {
      record += 1;
      const meta = xmlChild(sample, "SampleMetaData");
      const at = meta === undefined ? null : placeOf(meta, `${name}, feature ${record}`);
      const id = meta === undefined ? "" : xmlTextOf(meta, "SampleNumber");
      return xmlBelow(sample, "Depth").flatMap((depth) => {
        const ref = depths.get(depth.attributes.get("DepthID") ?? "");
        return xmlBelow(depth, "NutrientResult").flatMap((result) => {
          const common = {
            line: record,
            sample: id,
            field: null,
            at,
            depth: ref?.depth ?? "",
            depthText: ref?.text ?? "",
          };
          const code = xmlTextOf(result, "ModusTestID");
          return resultOf(
            xmlTextOf(result, "Element"),
            xmlTextOf(result, "Value"),
            xmlTextOf(result, "ValueUnit"),
            code,
            common,
          );
        });
      });
    });
  });
}

function standardResults(root: XmlElement): LabResult[] {
  return xmlBelow(root, "sample").flatMap((sample, index) => {
    const fieldOf = (element: XmlElement, key: string) =>
      element.attributes.get(key) ?? xmlTextOf(element, key);
    const id = fieldOf(sample, "sample_number") || fieldOf(sample, "sample_id");
    const farm = fieldOf(sample, "field_id") || null;
    const common = { line: index + 1, sample: id, field: farm, at: null, depth: "", depthText: "" };
    return xmlBelow(sample, "test").flatMap((test) => {
      const words = `${fieldOf(test, "method_id")} ${fieldOf(test, "method_name")}`.trim();
      return resultOf(
        fieldOf(test, "constituent_name"),
        fieldOf(test, "result"),
        fieldOf(test, "unit"),
        words,
        common,
      );
    });
  });
}

function resultOf(
  element: string,
  text: string,
  unit: string,
  code: string,
  common: Pick<LabResult, "line" | "sample" | "field" | "at" | "depth" | "depthText">,
): LabResult[] {
  const test = readHeading(element, 0).means;
  if (test === "pH" || test === "bufferPH" || test === "OM")
    return [{ ...common, test, text, unit, method: null, code }];
  if (test !== "P" && test !== "K" && test !== "CEC") return [];
  const byWords = /^[SL][-_]/.test(code) ? null : methodOf(test, code);
  return [{ ...common, test, text, unit, method: methodOfCode(code) ?? byWords, code }];
}

function placeOf(meta: XmlElement, where: string): Point | null {
  const wkt = xmlBelow(meta, "wkt")[0]?.text ?? "";
  if (wkt === "") return null;
  const found = /^POINT\s*Z?\s*\(\s*(\S+)\s+([^\s)]+)[^)]*\)$/i.exec(wkt);
  const at: Point = [Number(found?.[1]), Number(found?.[2])];
  if (isLonLat(at)) return at;
  throw new InputError(
    "bad-coordinate",
    `${where}: ${JSON.stringify(wkt.slice(0, 60))} is no point in longitude and latitude`,
    "Ask the lab for positions in WGS84 degrees.",
  );
}
