/** Gives the event loop a turn in the midst of long work, which lets Ctrl-C in. */
export const nextTurn = (): Promise<void> => new Promise((turn) => setImmediate(turn));
