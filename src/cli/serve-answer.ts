import { readFile } from "node:fs/promises";
import type { IncomingMessage } from "node:http";
import { join } from "node:path";
import { InputError } from "../errors/index.ts";
import type { FileSource } from "../plan/index.ts";
import { folderSource } from "./disk.ts";
import { headersFor } from "./serve-headers.ts";

/** What the server holds for the page: a name to show, and the files. */
export interface OpenedFolder {
  readonly name: string;
  readonly source: FileSource;
}

export interface ServeSettings {
  /** Folder of the built page. */
  readonly page: string;
  readonly opened: OpenedFolder | null;
}

interface Answer {
  readonly status: 200 | 400 | 403 | 404 | 405;
  readonly headers: Record<string, string>;
  readonly body: Uint8Array;
}

/**
 * Answers one request. GET (and HEAD) only; the Host must be this computer by name or number with the port that is
 * listened to, so that no page from elsewhere can reach it through a name of its own; paths stay, after links are
 * followed, inside the page's folder or the opened one.
 */
export async function answerRequest(
  request: Pick<IncomingMessage, "method" | "url" | "headers">,
  port: number,
  settings: ServeSettings,
): Promise<Answer> {
  if (request.method !== "GET" && request.method !== "HEAD")
    return refuse(405, "GET only", { Allow: "GET, HEAD" });
  const host = request.headers.host ?? "";
  if (host !== `localhost:${port}` && host !== `127.0.0.1:${port}`)
    return refuse(403, "another host was asked for");
  const path = pathOf(request.url ?? "/");
  if (path === null) return refuse(400, "not a path");
  if (path === "opened.json") return json(await listOpened(settings.opened));
  if (path.startsWith("opened/")) {
    if (!settings.opened) return refuse(404, "nothing is opened");
    return fromSource(settings.opened.source, path.slice("opened/".length), "opened");
  }
  return fromSource(await folderSource(settings.page), path === "" ? "index.html" : path, "page");
}

/** The path asked for, decoded; null when it is not one, or leads anywhere but down. */
function pathOf(url: string): string | null {
  let path: string;
  try {
    path = decodeURIComponent(url.split(/[?#]/)[0]!);
  } catch {
    return null;
  }
  if (!path.startsWith("/") || /[\\\0]/.test(path)) return null;
  const parts = path.slice(1).split("/");
  if (parts.some((part) => part === "." || part === "..")) return null;
  if (parts.length > 1 && parts.includes("")) return null;
  return parts.join("/");
}

async function fromSource(source: FileSource, path: string, from: "page" | "opened"): Promise<Answer> {
  try {
    return { status: 200, headers: headersFor(path, from), body: await source.read(path) };
  } catch (error) {
    if (error instanceof InputError) return refuse(404, `${path}: not here`);
    throw error;
  }
}

async function listOpened(opened: OpenedFolder | null): Promise<unknown> {
  if (!opened) return null;
  const files = (await opened.source.list()).filter((path) => !/(^|\/)\./.test(path));
  return { name: opened.name, files };
}

const utf8 = new TextEncoder();

const json = (value: unknown): Answer => ({
  status: 200,
  headers: headersFor("opened.json", "page"),
  body: utf8.encode(`${JSON.stringify(value)}\n`),
});

const refuse = (
  status: Exclude<Answer["status"], 200>,
  why: string,
  headers: Record<string, string> = {},
): Answer => ({
  status,
  headers: { ...headersFor("", "opened"), "Content-Type": "text/plain; charset=utf-8", ...headers },
  body: utf8.encode(`${why}\n`),
});

/** Whether the page has been built into this folder. */
export async function isPageThere(page: string): Promise<boolean> {
  try {
    await readFile(join(page, "index.html"));
    return true;
  } catch {
    return false;
  }
}
