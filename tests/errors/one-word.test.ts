import { expect, test } from "vitest";
import { oneWord } from "../../src/errors/index.ts";

test("a text is one word of a command line: quoted where a shell would take it apart", () => {
  expect(oneWord("log-product.MAP=11-52-0")).toBe("log-product.MAP=11-52-0");
  expect(oneWord("log-product.MAP 11-52-0=11-52-0")).toBe('"log-product.MAP 11-52-0=11-52-0"');
  expect(oneWord("Höf/süd")).toBe("Höf/süd");
  expect(oneWord('12" $x (a)')).toBe('"12\\" \\$x (a)"');
  expect(oneWord("")).toBe('""');
});
