import { existsSync, readdirSync, readFileSync } from "node:fs";
import { dirname, join } from "node:path";
import type { Plugin } from "vite";

/** Name of a package and its folder, from a path into it. */
const IN_PACKAGE = /^.*[\\/]node_modules[\\/]((?:@[^\\/]+[\\/])?[^\\/]+)/;

/** Writes the licences of all packages that went into the page and its workers: name, version, licence, text. */
export function thirdPartyLicences(): { readonly page: Plugin; readonly worker: () => Plugin } {
  const folders = new Map<string, string>();
  const take = (name: string, folder: string, file: string) => {
    if (folders.has(name)) return;
    folders.set(name, folder);
    for (const inner of bundledIn(dirname(file))) {
      const own = join(folder, "node_modules", inner);
      if (!folders.has(inner)) folders.set(inner, existsSync(own) ? own : beside(folder, name, inner));
    }
  };
  const collect = (bundle: Readonly<Record<string, { readonly type: string }>>) => {
    for (const chunk of Object.values(bundle)) {
      if (!("moduleIds" in chunk)) continue;
      for (const id of chunk.moduleIds as readonly string[]) {
        const [folder, name] = IN_PACKAGE.exec(id) ?? [];
        if (folder !== undefined && name !== undefined) take(name.replaceAll("\\", "/"), folder, id);
      }
    }
  };
  return {
    worker: () => ({
      name: "third-party-of-workers",
      apply: "build",
      generateBundle: (_options, bundle) => collect(bundle),
    }),
    page: {
      name: "third-party-licences",
      apply: "build",
      generateBundle(_options, bundle) {
        collect(bundle);
        const names = [...folders.keys()].sort();
        const source = names.map((name) => licenceOf(name, folders.get(name)!)).join("\n\n");
        this.emitFile({ type: "asset", fileName: "third-party-licences.txt", source: `${source}\n` });
      },
    },
  };
}

const beside = (folder: string, name: string, other: string): string =>
  join(folder, ...name.split("/").map(() => ".."), other);

/** Packages that a published file holds within itself, by the source maps that lie beside it. */
function bundledIn(folder: string): string[] {
  const maps = readdirSync(folder).filter((name) => name.endsWith(".mjs.map") && !name.includes("-dev"));
  const sources = maps.flatMap(
    (name) => (JSON.parse(readFileSync(join(folder, name), "utf8")) as { sources: string[] }).sources,
  );
  return [...new Set(sources.flatMap((source) => IN_PACKAGE.exec(`/${source}`)?.[1] ?? []))];
}

function licenceOf(name: string, folder: string): string {
  const { version, license } = JSON.parse(readFileSync(join(folder, "package.json"), "utf8"));
  const files = readdirSync(folder);
  const file = files.find((entry) => /^(licen[cs]e|copying)/i.test(entry));
  const readme = files.find((entry) => /^readme/i.test(entry));
  const text = file
    ? readFileSync(join(folder, file), "utf8")
    : /^#+ Licen[cs]e.*/ims.exec(readme ? readFileSync(join(folder, readme), "utf8") : "")?.[0];
  if (!text || !license) throw new Error(`${name}: no licence found`);
  return `== ${name} ${version}, ${license}\n\n${text.trim()}`;
}
