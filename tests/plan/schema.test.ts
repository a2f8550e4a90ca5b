import { readFileSync, writeFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { z } from "zod";
import { PlanDocument } from "../../src/plan/index.ts";

const path = "docs/plan.schema.json";

describe("docs/plan.schema.json", () => {
  it("is the schema the program reads plans by; UPDATE_SCHEMA=1 writes it anew", () => {
    const current = `${JSON.stringify(z.toJSONSchema(PlanDocument), null, 2)}\n`;
    if (process.env.UPDATE_SCHEMA === "1") writeFileSync(path, current);
    expect(readFileSync(path, "utf8")).toBe(current);
  });
});
