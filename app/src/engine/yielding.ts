/** Do something in a task of its own, before the next frame as a rule; what is returned calls it off. */
export function soon(act: () => void): () => void {
  const { port1, port2 } = new MessageChannel();
  const end = () => port1.close();
  port1.onmessage = () => {
    end();
    act();
  };
  port2.postMessage(null);
  return end;
}

/** Lets the worker read its messages, then goes on. A promise alone would not: it runs before any message. */
export const breathe = (): Promise<void> => new Promise((resolve) => void soon(resolve));

/** Work begun again for as long as it ends with an error of the kind meant, the host's queue run in between. */
export async function againWhile<T>(
  work: () => Promise<T>,
  isMeant: (error: unknown) => boolean,
): Promise<T> {
  for (;;) {
    try {
      return await work();
    } catch (error) {
      if (!isMeant(error)) throw error;
      await breathe();
    }
  }
}
