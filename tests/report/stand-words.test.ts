import { expect, test } from "vitest";
import { fieldStands, type LedgerEntry } from "../../src/ledger/index.ts";
import { standInWords, wholeStopsInWords } from "../../src/report/index.ts";

const stripped = (product: string, areaAc: number, number: number): LedgerEntry => ({
  ...({ kind: "placed", fieldId: "home", pass: "strip", map: "", revision: "", from: "typed" } as const),
  ...{ product, lb: 100 * areaAc, areaAc, p2o5Lb: 50, k2oLb: 0, number, date: "2027-04-14" },
});

/** Home, 60 ac, whose maps lay 18-46-0 and 0-0-60. */
const stand = (...entries: LedgerEntry[]) =>
  fieldStands(entries, [
    { fieldId: "home", areaAc: 60, plannedStripLb: 12_000, stripProducts: ["18-46-0", "0-0-60"] },
  ])[0]!;

test("a field gone over whole with a product that the plan had before is to be finished: nothing is left for a remainder", () => {
  const changed = stand(stripped("11-52-0", 60, 1), stripped("0-0-60", 60, 2));
  expect(changed.state).toBe("part stripped");
  const finish =
    "by the ledger 60.0 of 60.0 ac are gone over, last on 2027-04-14, and nothing of 18-46-0 is entered: " +
    "where the plan's product was changed since, or that is all that went out, `ledger --finish home`, else enter it";
  expect(standInWords("Home", changed)).toBe(
    `Home: ${finish}; its strip maps are of the whole field and lay it there again`,
  );
  expect(wholeStopsInWords("Home", changed)).toBe(
    `Home: ${finish}; these stops are of the whole field from its first pass`,
  );
});

test("one that is begun has its remainder and is planned on from where the rig stands", () => {
  const begun = stand(stripped("18-46-0", 24, 1));
  expect(standInWords("Home", begun)).toMatch(/part stripped by the ledger, 24\.0 of 60\.0 ac.* remainder$/);
  expect(wholeStopsInWords("Home", begun)).toBe(
    "Home: by the ledger 24.0 of 60.0 ac are stripped; these stops are of the whole field from its first pass: plan on from where the rig stands",
  );
});
