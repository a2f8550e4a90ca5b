import type { Notice } from "../../errors/index.ts";
import type { LabTable } from "../../soil/index.ts";

/** Lab tables of a new plan that are dated after the day it is made. */
export function sampledInFuture(labs: ReadonlyMap<string, LabTable>, date: string): Notice[] {
  return [...labs].flatMap(([path, { dates }]): Notice[] => {
    const last = dates?.[1] ?? "";
    if (last <= date) return [];
    const message = `${path}: samples dated ${last}, after ${date}, the day of the plan; look for a year typed wrongly`;
    return [{ code: "sampling-in-future", message, where: path }];
  });
}
