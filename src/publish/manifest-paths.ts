/**
 * What is wrong with the paths of a set, or null. They must be sorted by code unit, relative, free of `..`,
 * back-slashes and control characters, and still be told apart on a stick that ignores upper and lower case.
 * `reserved` is a path that the set may not use itself.
 */
export function faultOfPaths(paths: readonly string[], reserved: string): string | null {
  const files = new Set<string>();
  const folders = new Set<string>();
  let before = "";
  for (const path of paths) {
    const shown = JSON.stringify(path);
    if (path.split("/").some((part) => part === "" || part === "." || part === "..")) {
      return `path ${shown} does not stay inside its folder`;
    }
    if (/[\\:\p{Cc}]/u.test(path)) return `path ${shown} holds a character that not every file system takes`;
    if (/\p{Cs}/u.test(path)) return `path ${shown} is not proper text`;
    if (path <= before) return `path ${shown} stands out of order or twice`;
    before = path;
    const key = path.normalize("NFC").toLowerCase();
    if (key === reserved.toLowerCase()) return `path ${shown} is kept for the manifest`;
    if (files.has(key)) return `path ${shown} differs from another only in upper and lower case`;
    files.add(key);
    for (let cut = key.indexOf("/"); cut >= 0; cut = key.indexOf("/", cut + 1))
      folders.add(key.slice(0, cut));
  }
  for (const folder of folders) {
    if (files.has(folder)) return `${JSON.stringify(folder)} is a file and a folder at once`;
    if (folder === reserved.toLowerCase()) return `path ${JSON.stringify(folder)} is kept for the manifest`;
  }
  return null;
}
