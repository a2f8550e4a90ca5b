import {
  type Answers,
  columnKey,
  InputError,
  type InputReading,
  type LabMeaning,
  methodInWords,
  readHeadings,
  readInputFile,
  testMethodFrom,
} from "#core";

type SampleTable = NonNullable<NonNullable<InputReading["item"]>["samples"]>;

export interface ColumnReading {
  readonly heading: string;
  /** What it is taken as now, where another can be chosen; the first choice of a select is none. */
  readonly choice: {
    readonly means: LabMeaning;
    readonly unit: string;
    readonly isByHand: boolean;
  } | null;
  /** `phosphorus, mehlich-3`; `not used`. */
  readonly takenAs: string;
  readonly unit: string;
  readonly howKnown: string;
}

export const MEANINGS: Readonly<Partial<Record<LabMeaning, string>>> = {
  sample: "sample number",
  labNumber: "lab number",
  field: "field",
  latitude: "latitude",
  longitude: "longitude",
  depth: "depth",
  depthTop: "depth, top",
  depthBottom: "depth, bottom",
  date: "date of sampling",
  analyte: "which test",
  value: "result",
  unit: "unit",
  method: "method",
  P: "phosphorus",
  K: "potassium",
  P2O5: "phosphorus, as P2O5",
  K2O: "potassium, as K2O",
  CEC: "exchange capacity",
  pH: "pH",
  bufferPH: "buffer pH",
  OM: "organic matter",
};

/** Columns of a table that could not be read, so that another can be chosen. */
export function columnsInSpite(path: string, bytes: Uint8Array, answers: Answers): ColumnReading[] {
  if (!/\.(csv|tsv|txt)$/i.test(path)) return [];
  try {
    return tableColumns(readInputFile(path, bytes, answers).table, path, answers);
  } catch (error) {
    if (error instanceof InputError) return [];
    throw error;
  }
}

function tableColumns(table: SampleTable | null, path: string, answers: Answers): ColumnReading[] {
  if (table === null) return [];
  return readHeadings(table).map(
    ({ heading, means, unit }): ColumnReading => ({
      heading,
      takenAs: MEANINGS[means] ?? "not used",
      unit: unit ?? "",
      howKnown: isByHand(path, heading, answers) ? "by hand" : means === "other" ? "" : "heading",
      choice: choiceOf(path, heading, means, unit, answers),
    }),
  );
}

const isByHand = (path: string, heading: string, answers: Answers): boolean =>
  answers[columnKey(path, heading)] !== undefined;

const choiceOf = (
  path: string,
  heading: string,
  means: LabMeaning,
  unit: string | null,
  answers: Answers,
): ColumnReading["choice"] => ({ means, unit: unit ?? "", isByHand: isByHand(path, heading, answers) });

const meansOf = (headings: readonly string[], heading: string): LabMeaning =>
  readHeadings({ headings }).find((one) => one.heading === heading)!.means;

/** Columns as they were taken; of shapes their attributes. */
export function columnsOf({ taken, item }: InputReading, path: string, answers: Answers): ColumnReading[] {
  if (taken === null) return [];
  if (taken.role === "unclear" && item?.samples) return tableColumns(item.samples, path, answers);
  if (taken.role !== "samples") {
    const layer = "layer" in taken ? taken.layer : null;
    return (layer?.columns ?? []).map(({ name }) => ({
      heading: name,
      takenAs: /^(name|field|fieldname|field_name)$/i.test(name) ? "name" : "kept beside the shape",
      ...{ unit: "", howKnown: "", choice: null },
    }));
  }
  const { lab, headings } = taken;
  const table = item?.samples ?? null;
  const isLong = headings.some((heading) => /^(analyte|value)$/.test(meansOf(headings, heading)));
  return readHeadings(table ?? { headings }).map(({ heading, means, unit }): ColumnReading => {
    const byHand = isByHand(path, heading, answers);
    const choice = table && !isLong ? choiceOf(path, heading, means, unit, answers) : null;
    const reading = Object.values(lab.tests).find((test) => test.heading === heading);
    if (reading !== undefined) {
      const { saidBy } = reading;
      const oxide = means === "K" || means === "K2O" ? "K2O" : "P2O5";
      const method = methodWords(reading.method, oxide);
      return {
        heading,
        takenAs: [MEANINGS[means] ?? means, method].filter((word) => word !== "").join(", "),
        unit: reading.unit === "" ? "?" : reading.unit,
        howKnown:
          reading.unit === "" || (saidBy === "answer" && reading.method === "")
            ? "question below"
            : byHand
              ? "by hand"
              : saidBy === "answer"
                ? "as answered"
                : "heading",
        choice,
      };
    }
    const isPlace = means === "latitude" || means === "longitude";
    const isUsed = MEANINGS[means] !== undefined && !lab.unused.includes(heading);
    return {
      heading,
      takenAs: isUsed ? MEANINGS[means]! : "not used",
      unit: isPlace ? "degrees" : isUsed ? (unit ?? "") : "",
      howKnown: byHand ? "by hand" : isUsed ? "heading" : "",
      choice,
    };
  });
}

/** The extractant in words; a word that no guide knows as it stands. */
function methodWords(method: string, oxide: "P2O5" | "K2O"): string {
  try {
    return method === "" ? "" : methodInWords(testMethodFrom(method, oxide));
  } catch (error) {
    if (error instanceof InputError) return method;
    throw error;
  }
}
