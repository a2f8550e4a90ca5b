/** A small promise face over one IndexedDB database with two stores: sessions and the files they need. */
const NAME = "bermplan";

function open(): Promise<IDBDatabase> {
  return new Promise((resolve, reject) => {
    const request = indexedDB.open(NAME, 1);
    request.onupgradeneeded = () => {
      request.result.createObjectStore("sessions");
      request.result.createObjectStore("files");
    };
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error);
  });
}

let database: Promise<IDBDatabase> | null = null;

async function ask<T>(
  store: "sessions" | "files",
  mode: IDBTransactionMode,
  act: (store: IDBObjectStore) => IDBRequest<T>,
): Promise<T> {
  database ??= open();
  const transaction = (await database).transaction(store, mode);
  const request = act(transaction.objectStore(store));
  return new Promise((resolve, reject) => {
    transaction.oncomplete = () => resolve(request.result);
    transaction.onerror = () => reject(transaction.error);
    transaction.onabort = () => reject(transaction.error ?? new Error("the browser's storage is full"));
  });
}

export const keep = async (store: "sessions" | "files", key: string, value: unknown): Promise<void> => {
  await ask(store, "readwrite", (at) => at.put(value, key));
};

export const recall = (store: "sessions" | "files", key: string): Promise<unknown> =>
  ask(store, "readonly", (at) => at.get(key));
