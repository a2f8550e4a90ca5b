import { lastOfPath, type StickPlace } from "#core";

/** A folder that the user chose, by paths with forward slashes below it. */
export class StickFolder implements StickPlace {
  private readonly root: FileSystemDirectoryHandle;

  constructor(root: FileSystemDirectoryHandle) {
    this.root = root;
  }

  get name(): string {
    return this.root.name === "" ? "the folder" : this.root.name;
  }

  /** Every file, sorted by code unit; folders that may not be entered are left out. */
  async files(): Promise<string[]> {
    const found: string[] = [];
    await filesBelow(this.root, "", found);
    return found.sort();
  }

  /** Names of files and folders right in it. */
  async names(): Promise<string[]> {
    const names: string[] = [];
    for await (const name of this.root.keys()) names.push(name);
    return names;
  }

  async read(path: string): Promise<Uint8Array<ArrayBuffer> | "other" | null> {
    const folder = await this.folderOf(path, false);
    const handle = await folder?.getFileHandle(lastOfPath(path)).catch(otherOrNone);
    if (!handle || handle === "other") return handle ?? null;
    return new Uint8Array(await (await handle.getFile()).arrayBuffer());
  }

  /** Puts a file in place whole: the browser writes it beside and renames it when it is closed. */
  async write(path: string, bytes: Uint8Array): Promise<void> {
    const folder = await this.folderOf(path, true);
    const handle = await folder!.getFileHandle(lastOfPath(path), { create: true });
    const writable = await handle.createWritable();
    await writable.write(Uint8Array.from(bytes));
    await writable.close();
  }

  async remove(path: string): Promise<void> {
    await (await this.folderOf(path, false))?.removeEntry(lastOfPath(path), { recursive: true });
  }

  private async folderOf(path: string, create: boolean): Promise<FileSystemDirectoryHandle | null> {
    let folder: FileSystemDirectoryHandle | null = this.root;
    for (const part of path.split("/").slice(0, -1)) {
      folder = await folder.getDirectoryHandle(part, { create }).catch(nullWhereMissing);
      if (folder === null) return null;
    }
    return folder;
  }
}

function otherOrNone(error: unknown): "other" | null {
  return error instanceof DOMException && error.name === "TypeMismatchError"
    ? "other"
    : nullWhereMissing(error);
}

/** A missing file or folder, or one of the other kind under its name, is none. */
function nullWhereMissing(error: unknown): null {
  if (error instanceof DOMException && ["NotFoundError", "TypeMismatchError"].includes(error.name))
    return null;
  throw error;
}

async function filesBelow(folder: FileSystemDirectoryHandle, below: string, found: string[]): Promise<void> {
  try {
    for await (const [name, handle] of folder.entries()) {
      const path = below === "" ? name : `${below}/${name}`;
      if (handle.kind === "file") found.push(path);
      else await filesBelow(handle as FileSystemDirectoryHandle, path, found);
    }
  } catch (error) {
    if (!(error instanceof DOMException && error.name === "NotAllowedError" && below !== "")) throw error;
  }
}
