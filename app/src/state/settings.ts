import { type Signal, signal } from "@preact/signals";
import type { UnitSystem } from "#core";

/** What the user chose about this page on this computer; the plan knows nothing of it. */
interface Settings {
  readonly system: UnitSystem;
  readonly theme: "light" | "sun";
  readonly keys: boolean;
}

const NAME = "bermplan settings";
const usual: Settings = { system: "us", theme: "light", keys: true };

function stored(): Settings {
  try {
    const read = JSON.parse(localStorage.getItem(NAME) ?? "{}") as Partial<Settings>;
    return {
      system: read.system === "metric" ? "metric" : "us",
      theme: read.theme === "sun" ? "sun" : "light",
      keys: read.keys !== false,
    };
  } catch {
    return usual;
  }
}

export const settings: Signal<Settings> = signal(stored());

export function change(some: Partial<Settings>): void {
  settings.value = { ...settings.value, ...some };
  try {
    localStorage.setItem(NAME, JSON.stringify(settings.value));
  } catch {
    // The choice holds for this visit then.
  }
}
