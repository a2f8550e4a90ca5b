// Every key that `--input` takes is named on the page that shows its shape.
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { z } from "zod";
import { appliedOf } from "../../src/cli/calculations/applied.ts";
import { capacityOf } from "../../src/cli/calculations/capacity.ts";
import { fillsOf } from "../../src/cli/calculations/fills.ts";
import { ledgerOf, TypedEvents } from "../../src/cli/calculations/ledger.ts";
import { orderOf } from "../../src/cli/calculations/order.ts";
import type { ReadShape } from "../../src/cli/calculations/read-calculation.ts";
import { remainderOf } from "../../src/cli/calculations/remainder.ts";
import { seasonOf } from "../../src/cli/calculations/season.ts";
import { project } from "../support/doc-blocks.ts";

/** The shape that a calculation asks its figures for. */
function shapeOf(calculation: (read: ReadShape) => unknown): z.ZodType {
  let shape: z.ZodType | null = null;
  const stop = new Error("seen");
  try {
    calculation((asked) => {
      shape = asked;
      throw stop;
    });
  } catch (error) {
    if (error !== stop) throw error;
  }
  if (shape === null) throw new Error("no shape was asked for");
  return shape;
}

function keysOf(schema: unknown): string[] {
  if (Array.isArray(schema)) return schema.flatMap(keysOf);
  if (typeof schema !== "object" || schema === null) return [];
  return Object.entries(schema).flatMap(([key, value]) =>
    key === "properties"
      ? [...Object.keys(value as object), ...Object.values(value as object).flatMap(keysOf)]
      : keysOf(value),
  );
}

const pageText = (name: string): string => readFileSync(join(project, "docs", name), "utf8");

describe.each([
  ["fills", shapeOf(fillsOf), "operations.md"],
  ["season", shapeOf(seasonOf), "operations.md"],
  ["order", shapeOf(orderOf), "operations.md"],
  ["applied", shapeOf(appliedOf), "operations.md"],
  ["remainder", shapeOf(remainderOf), "operations.md"],
  ["ledger", shapeOf(ledgerOf), "operations.md"],
  ["ledger --add", TypedEvents, "operations.md"],
  ["capacity", shapeOf(capacityOf), "split.md"],
] as const)("%s", (_name, shape, page) => {
  it("names every key", () => {
    const keys = [...new Set(keysOf(z.toJSONSchema(shape, { io: "input" })))];
    expect(keys.length).toBeGreaterThan(3);
    const text = pageText(page);
    expect(keys.filter((key) => !new RegExp(`\\b${key}\\b`).test(text))).toEqual([]);
  });
});
