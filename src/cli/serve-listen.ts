import { createServer, type Server } from "node:http";
import { InputError } from "../errors/index.ts";
import { answerRequest, type ServeSettings } from "./serve-answer.ts";

/** Ports tried after the first when it is taken. */
const NEXT_FEW = 10;

export interface Listening {
  readonly url: string;
  readonly server: Server;
}

/**
 * Listen on this computer alone. A port given by the user is taken or refused; else the first free one of a few from
 * `first` on. Throws `port-taken` naming it.
 */
export async function listen(settings: ServeSettings, first: number, isGiven: boolean): Promise<Listening> {
  const ports = isGiven || first === 0 ? [first] : Array.from({ length: NEXT_FEW }, (_, k) => first + k);
  for (const port of ports) {
    const server = serverFor(settings);
    if (await opens(server, port)) {
      const { port: taken } = server.address() as { port: number };
      return { url: `http://localhost:${taken}/`, server };
    }
  }
  throw new InputError(
    "port-taken",
    `port ${ports.join(", ")} is taken by another program`,
    "Give another with --port, or --port 0 for any free one.",
  );
}

function serverFor(settings: ServeSettings): Server {
  const server = createServer((request, response) => {
    const { port } = server.address() as { port: number };
    answerRequest(request, port, settings).then(
      ({ status, headers, body }) => {
        response.writeHead(status, { ...headers, "Content-Length": body.length });
        response.end(request.method === "HEAD" ? undefined : body);
      },
      (error: unknown) => {
        response.writeHead(500, { "Content-Type": "text/plain; charset=utf-8" });
        response.end(`our fault: ${error instanceof Error ? error.message : String(error)}\n`);
      },
    );
  });
  return server;
}

function opens(server: Server, port: number): Promise<boolean> {
  return new Promise((resolve, reject) => {
    server.once("error", (error: NodeJS.ErrnoException) => {
      if (error.code === "EADDRINUSE" || error.code === "EACCES") resolve(false);
      else reject(error);
    });
    server.listen(port, "127.0.0.1", () => resolve(true));
  });
}
