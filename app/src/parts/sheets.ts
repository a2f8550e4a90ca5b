import type { SheetName } from "../state/route.ts";

interface SheetEntry {
  readonly name: SheetName;
  readonly title: string;
  readonly short: string;
}

/** The sheets in the order of the work; their place is their number. */
export const sheets: readonly SheetEntry[] = [
  { name: "farm", title: "Farm", short: "Farm" },
  { name: "soil", title: "Soil tests", short: "Soil" },
  { name: "need", title: "Need", short: "Need" },
  { name: "split", title: "Split", short: "Split" },
  { name: "strips", title: "Strips", short: "Strips" },
  { name: "fills", title: "Fills and season", short: "Fills" },
  { name: "order", title: "Order", short: "Order" },
  { name: "cab-sheet", title: "Cab sheet", short: "Cab" },
  { name: "applied", title: "Applied", short: "Applied" },
];

export const titleOf = (sheet: SheetName): string => sheets.find(({ name }) => name === sheet)!.title;
