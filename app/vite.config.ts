import { readdirSync, readFileSync, statSync } from "node:fs";
import { join } from "node:path";
import { defineConfig, type Plugin } from "vite";
import { thirdPartyLicences } from "./third-party-licences.ts";

const project = join(import.meta.dirname, "..");
const { version } = JSON.parse(readFileSync(join(project, "package.json"), "utf8")) as { version: string };

/** Puts the ready scenarios beside the page, with a list of their files. */
function readyScenarios(): Plugin {
  const folder = join(project, "sample-data");
  const filesOf = (name: string) =>
    readdirSync(join(folder, name), { recursive: true, encoding: "utf8" })
      .filter((path) => statSync(join(folder, name, path)).isFile())
      .map((path) => path.replaceAll("\\", "/"))
      .sort();
  return {
    name: "ready-scenarios",
    apply: "build",
    generateBundle() {
      const names = readdirSync(folder).filter((name) => statSync(join(folder, name)).isDirectory());
      const list = Object.fromEntries(names.sort().map((name) => [name, filesOf(name)]));
      const emit = (fileName: string, source: string | Uint8Array) =>
        this.emitFile({ type: "asset", fileName, source });
      emit("sample-data/list.json", `${JSON.stringify(list)}\n`);
      for (const name of names) {
        for (const path of filesOf(name)) {
          emit(`sample-data/${name}/${path}`, readFileSync(join(folder, name, path)));
        }
      }
    },
  };
}

/** Page and map load side by side with the first script, which is small. */
function loadSideBySide(): Plugin {
  const begun = /app[\\/]src[\\/](page\.tsx|map[\\/](map-library|plat-map)\.ts)$/;
  return {
    name: "load-side-by-side",
    apply: "build",
    transformIndexHtml: {
      order: "post",
      handler(_html, { bundle = {} }) {
        const wanted = new Set<string>();
        const take = (fileName: string) => {
          const chunk = bundle[fileName];
          if (chunk?.type !== "chunk" || wanted.has(fileName)) return;
          wanted.add(fileName);
          for (const inner of chunk.imports) take(inner);
        };
        for (const one of Object.values(bundle)) {
          if (one.type === "chunk" && begun.test(one.facadeModuleId ?? "")) take(one.fileName);
        }
        return [...wanted].map((fileName) => ({
          tag: "link",
          attrs: { rel: "modulepreload", crossorigin: true, href: `./${fileName}` },
          injectTo: "head",
        }));
      },
    },
  };
}

/** Nearly all of the page's own code runs while it opens: the browser may make it ready beside the page's thread. */
function readyAtOnce(): Plugin {
  return {
    name: "ready-at-once",
    apply: "build",
    generateBundle: {
      order: "post",
      handler(_options, bundle) {
        for (const chunk of Object.values(bundle)) {
          if (chunk.type !== "chunk" || !/^(page|choose-files|plat-map)$/.test(chunk.name)) continue;
          chunk.code = `//# allFunctionsCalledOnLoad\n${chunk.code}`;
        }
      },
    },
  };
}

/** A library under a licence of its own stays a file of its own, so that anybody can replace it. */
const chunks = {
  codeSplitting: {
    groups: [
      { name: "geojson-validation", test: /node_modules[\\/]geojson-validation[\\/]/, priority: 2 },
      { name: "map", test: /node_modules[\\/]maplibre-gl[\\/]/, priority: 1 },
    ],
  },
};

/** Of the engine's files only what is used goes in. */
const engine = join(project, "src");
const treeshake = { moduleSideEffects: (id: string) => !id.startsWith(engine) };

const licences = thirdPartyLicences();

export default defineConfig({
  root: import.meta.dirname,
  base: "./",
  resolve: { conditions: ["source", "module", "browser", "development|production"] },
  define: { __TOOL_VERSION__: JSON.stringify(version) },
  plugins: [readyScenarios(), loadSideBySide(), readyAtOnce(), licences.page],
  worker: {
    format: "es",
    plugins: () => [licences.worker()],
    rolldownOptions: { output: chunks, treeshake },
  },
  build: {
    outDir: "dist",
    emptyOutDir: true,
    target: "es2023",
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
    chunkSizeWarningLimit: 2_000,
    rolldownOptions: { output: chunks, treeshake },
  },
});
