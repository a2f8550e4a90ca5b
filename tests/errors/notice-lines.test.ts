import { describe, expect, it } from "vitest";
import { noticeLines } from "../../src/errors/index.ts";

const notice = (code: string, message: string) => ({ code, message, where: "" });

describe("notices as lines", () => {
  it("say what is shared once, with how often", () => {
    const lines = noticeLines([notice("a", "same"), notice("b", "other"), notice("a", "same")], "there");
    expect(lines).toEqual(["Notice: same (2 times)", "Notice: other"]);
  });

  it("let three of a kind stand for the rest and say where all are", () => {
    const many = Array.from({ length: 13 }, (_, i) => notice("below", `line ${i + 2}`));
    expect(noticeLines(many, "all are there")).toEqual([
      "Notice: line 2",
      "Notice: line 3",
      "Notice: line 4",
      "Notice: 10 more of the kind “below”; all are there.",
    ]);
    expect(noticeLines(many.slice(0, 3), "all are there")).toHaveLength(3);
  });
});
