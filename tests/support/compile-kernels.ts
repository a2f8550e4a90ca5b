import { resolve } from "node:path";

interface Compiler {
  main(
    words: readonly string[],
    host: { writeFile: (name: string, contents: Uint8Array | string) => void },
  ): Promise<{ error: Error | null; stderr: { toString(): string } }>;
}

const folder = resolve(import.meta.dirname, "../../src/interpolate/kernels");

/** The text of kernels-base64.ts, made from the AssemblyScript sources by the compiler in the dev dependencies. */
export async function compiledKernelsModule(): Promise<string> {
  const name = "assemblyscript/asc";
  const { default: asc } = (await import(name)) as { default: Compiler };
  let bytes = new Uint8Array();
  const words = ["index.as.ts", "--baseDir", folder, "--outFile", "kernels.wasm"];
  const { error, stderr } = await asc.main(
    [...words, "--runtime", "stub", "--enable", "simd", "-O3", "--noAssert", "--use", "abort="],
    {
      writeFile: (file, contents) => {
        if (file.endsWith(".wasm") && typeof contents !== "string") bytes = Uint8Array.from(contents);
      },
    },
  );
  if (error !== null) throw new Error(`${error.message}\n${stderr.toString()}`);
  return [
    "/** Compiled from the *.as.ts beside this file; `npm run build:kernels` writes it anew. */",
    "export const KERNELS_BASE64: string =",
    `  "${Buffer.from(bytes).toString("base64")}";`,
    "",
  ].join("\n");
}
