/** Lets the worker read its messages, then goes on. A promise alone would not: it runs before any message. */
export function breathe(): Promise<void> {
  return new Promise((resolve) => {
    const channel = new MessageChannel();
    channel.port1.onmessage = () => {
      channel.port1.close();
      resolve();
    };
    channel.port2.postMessage(null);
  });
}

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
