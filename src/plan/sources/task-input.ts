import { InputError, type Question } from "../../errors/index.ts";
import type {
  AppliedLog,
  Feature,
  FileAnswers,
  Layer,
  Task,
  TaskData,
  TaskRates,
} from "../../formats/index.ts";

const SETPOINT_MASS_PER_AREA = "0006";

/**
 * The planned rates of task data, by mass per area. Several tasks or products: question `layer`.
 * Throws `no-planned-task`, `rate-not-mass`.
 */
export function plannedRates(
  data: TaskData,
  answers: FileAnswers,
): { task: Task; rates: TaskRates; questions: Question[] } {
  const planned = data.tasks.filter((task) => task.isPlanned && task.rates.length > 0);
  if (planned.length === 0) {
    throw new InputError(
      "no-planned-task",
      `${data.path}: no planned task with rates in it`,
      "Choose task data with a planned task.",
    );
  }
  const found = planned.flatMap((task) => {
    return task.rates.map((rates) => ({
      task,
      rates,
      name: task.rates.length > 1 ? `${task.name}: ${rates.product}` : task.name,
    }));
  });
  const byMass = found.filter(({ rates }) => rates.ddi === SETPOINT_MASS_PER_AREA);
  if (byMass.length === 0) {
    const ddis = [...new Set(found.map(({ rates }) => rates.ddi))].join(", ");
    throw new InputError(
      "rate-not-mass",
      `${data.path}: its rates are of DDI ${ddis}, not 0006 (setpoint mass per area)`,
      "Give a prescription for a dry product.",
    );
  }
  const answered = byMass.find(({ name }) => name === answers.layer);
  if (answered !== undefined || byMass.length === 1) return { ...(answered ?? byMass[0]!), questions: [] };
  const choices = byMass.map(({ name }) => name);
  const seen = `${data.path}: ${choices.join(", ")}`;
  return { ...byMass[0]!, questions: [{ key: "layer", text: "Which task is to be read?", choices, seen }] };
}

/** The logs of task data, one after the other. Throws `no-applied-rate`. */
export function logOfTasks(data: TaskData): AppliedLog {
  const withLogs = data.tasks.filter((task) => task.logs.some((log) => log.points.length > 0));
  if (withLogs.length === 0) {
    throw new InputError(
      "no-applied-rate",
      `${data.path}: no log with actual rates in it`,
      "Copy the task data after the work.",
    );
  }
  let before = 0;
  const points = withLogs.flatMap((task) =>
    task.logs.flatMap((log) => {
      const first = before;
      const numbered = log.points.map((point) => ({ ...point, pass: point.pass + first }));
      before = (numbered.at(-1)?.pass ?? first - 1) + 1;
      return numbered;
    }),
  );
  const logged = [...new Set(points.map(({ product }) => product))].filter((product) => product !== "");
  const planned = [...new Set(withLogs.flatMap((task) => task.rates.map(({ product }) => product)))];
  const products = logged.length > 0 ? logged : planned;
  return { points, products, readUnit: "lb/ac" };
}

/** The fields of task data, or their guidance lines, as a layer; null when there are none. */
export function layerOfTasks(data: TaskData, kind: "polygons" | "lines"): Layer | null {
  const shapes = data.fields.flatMap(({ name, boundary, lines }): Omit<Feature, "record">[] => {
    const properties = { field: name };
    if (kind === "lines")
      return lines.map((line) => ({ geometry: { kind: "line", parts: [line] }, properties }));
    return boundary.length === 0 ? [] : [{ geometry: { kind: "polygon", polygons: boundary }, properties }];
  });
  if (shapes.length === 0) return null;
  return {
    name: "TASKDATA",
    path: data.path,
    one: "feature",
    features: shapes.map((shape, index) => ({ record: index + 1, ...shape })),
    skipped: [],
    columns: [{ name: "field", kind: "text" }],
    coordinateSystem: "OGC:CRS84",
    coordinateSystemFrom: "standard",
    encoding: "UTF-8",
    notices: [],
  };
}
