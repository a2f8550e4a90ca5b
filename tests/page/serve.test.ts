import { mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from "node:fs";
import { request } from "node:http";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { folderSource } from "../../src/cli/disk.ts";
import { type Listening, listen } from "../../src/cli/serve-listen.ts";

interface Got {
  readonly status: number;
  readonly headers: Readonly<Record<string, string | string[] | undefined>>;
  readonly body: string;
}

describe("the page's server", () => {
  let folder: string;
  let listening: Listening;
  let port: number;

  const ask = (path: string, options: { method?: string; host?: string } = {}): Promise<Got> =>
    new Promise((resolve, reject) => {
      const { method = "GET", host = `localhost:${port}` } = options;
      const asked = request({ port, host: "127.0.0.1", path, method, headers: { host } }, (response) => {
        let body = "";
        response.setEncoding("utf8");
        response.on("data", (text: string) => {
          body += text;
        });
        response.on("end", () =>
          resolve({ status: response.statusCode ?? 0, headers: response.headers, body }),
        );
      });
      asked.on("error", reject);
      asked.end();
    });

  beforeAll(async () => {
    folder = mkdtempSync(join(tmpdir(), "bermplan-serve-"));
    mkdirSync(join(folder, "page/assets"), { recursive: true });
    mkdirSync(join(folder, "set/fields"), { recursive: true });
    writeFileSync(join(folder, "page/index.html"), "<!doctype html><title>page</title>");
    writeFileSync(join(folder, "page/assets/a.js"), "1");
    writeFileSync(join(folder, "set/plan.json"), "{}");
    writeFileSync(join(folder, "set/fields/map.svg"), "<svg xmlns='http://www.w3.org/2000/svg'/>");
    writeFileSync(join(folder, "secret.txt"), "secret");
    symlinkSync(join(folder, "secret.txt"), join(folder, "set/link.txt"));
    symlinkSync(join(folder, "secret.txt"), join(folder, "page/link.txt"));
    const opened = { name: "set", source: await folderSource(join(folder, "set")) };
    listening = await listen({ page: join(folder, "page"), opened }, 0, true);
    port = Number(new URL(listening.url).port);
  });

  afterAll(() => {
    listening.server.close();
    rmSync(folder, { recursive: true, force: true });
  });

  it("listens on this computer alone", () => {
    expect(listening.server.address()).toMatchObject({ address: "127.0.0.1" });
  });

  it("gives the page under a policy that lets nothing in from elsewhere", async () => {
    const { status, headers, body } = await ask("/");
    expect(status).toBe(200);
    expect(body).toContain("page");
    expect(headers["content-security-policy"]).toBe(
      "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; worker-src 'self' blob:; style-src 'self'; img-src 'self' data: blob:; connect-src 'self'",
    );
    expect(headers["x-content-type-options"]).toBe("nosniff");
  });

  it("gives files of the opened folder under a policy that runs nothing", async () => {
    const { status, headers } = await ask("/opened/fields/map.svg");
    expect(status).toBe(200);
    expect(headers["content-type"]).toBe("image/svg+xml");
    expect(headers["content-security-policy"]).toBe(
      "default-src 'none'; style-src 'unsafe-inline'; img-src data:",
    );
  });

  it("lists the opened folder", async () => {
    const { body } = await ask("/opened.json");
    expect(JSON.parse(body)).toEqual({ name: "set", files: ["fields/map.svg", "link.txt", "plan.json"] });
  });

  it.each([
    ["another host name", "/", { host: "example.org" }, 403],
    ["another port in the host", "/", { host: "localhost:1" }, 403],
    ["no port in the host", "/", { host: "localhost" }, 403],
    ["a post", "/", { method: "POST" }, 405],
    ["a put into the folder", "/opened/plan.json", { method: "PUT" }, 405],
    ["a delete", "/opened/plan.json", { method: "DELETE" }, 405],
    ["a way up", "/../secret.txt", {}, 400],
    ["a way up in disguise", "/%2e%2e/secret.txt", {}, 400],
    ["a way up out of the opened folder", "/opened/..%2fsecret.txt", {}, 400],
    ["a back-slash", "/opened/..%5csecret.txt", {}, 400],
    ["an empty part", "/opened//plan.json", {}, 400],
    ["half a character", "/%e0%a4%a", {}, 400],
    ["a link out of the opened folder", "/opened/link.txt", {}, 404],
    ["a link out of the page", "/link.txt", {}, 404],
    ["what is not there", "/nothing.js", {}, 404],
    ["a folder", "/opened/fields", {}, 404],
  ] as const)("refuses %s", async (_, path, options, status) => {
    const got = await ask(path, options);
    expect(got.status).toBe(status);
    expect(got.body).not.toContain("secret\n");
    expect(got.headers["content-security-policy"]).toBeDefined();
  });

  it("answers HEAD without a body", async () => {
    const got = await ask("/assets/a.js", { method: "HEAD" });
    expect([got.status, got.body]).toEqual([200, ""]);
  });

  it("takes the next free port when none was asked for, and says when the one asked for is taken", async () => {
    const next = await listen({ page: join(folder, "page"), opened: null }, port, false);
    expect(Number(new URL(next.url).port)).toBeGreaterThan(port);
    next.server.close();
    await expect(listen({ page: join(folder, "page"), opened: null }, port, true)).rejects.toMatchObject({
      code: "port-taken",
    });
  });
});
