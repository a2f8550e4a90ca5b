import { expect, test } from "vitest";
import { inOneLine } from "../../src/errors/index.ts";

test("message and remedy are two sentences, whether or not the message ends with a stop", () => {
  expect(inOneLine({ message: "the test is Bray P1", remedy: "Choose another guide." })).toBe(
    "the test is Bray P1. Choose another guide.",
  );
  expect(inOneLine({ message: "It is empty.", remedy: "Fill it." })).toBe("It is empty. Fill it.");
});
