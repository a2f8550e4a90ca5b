import { expect, test } from "vitest";
import { withStanding } from "../../app/src/state/standing-limits.ts";
import type { Layer } from "../../src/report/index.ts";

const layer = (id: string, most: number, limits: readonly number[]): Layer =>
  ({ id, most, classes: { limits } }) as unknown as Layer;

test("limits of a field's first map stand, but none of a map that has one rate all over or nothing", () => {
  const first = withStanding({}, [layer("strip/all", 180, []), layer("soil/P", 40, [15, 30])]);
  expect(first).toEqual({});
  const then = withStanding(first, [layer("strip/all", 230, [50, 100]), layer("strip/0-0-60", 0, [])]);
  expect(then).toEqual({ "strip/all": [50, 100] });
  expect(withStanding(then, [layer("strip/all", 90, [20, 40])])).toEqual(then);
});
