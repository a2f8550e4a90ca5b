// The compiled kernels that are committed are what their sources compile to.
import { resolve } from "node:path";
import { expect, it } from "vitest";
import { compiledKernelsModule } from "../support/compile-kernels.ts";

it("kernels-base64.ts is what the AssemblyScript sources compile to, byte for byte", async () => {
  const committed = resolve(import.meta.dirname, "../../src/interpolate/kernels/kernels-base64.ts");
  await expect(await compiledKernelsModule()).toMatchFileSnapshot(committed);
});
