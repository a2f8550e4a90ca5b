import { focusSheet } from "./parts/focus-sheet.ts";
import { sheets } from "./parts/sheets.ts";
import { twinOpen } from "./plat/twin.tsx";
import { editsShown } from "./state/compare.ts";
import { chosenField, stepField } from "./state/look.ts";
import { canCompare, isComparing, moveLine } from "./state/map-before.ts";
import { plan, redo, undo } from "./state/opened.ts";
import { pointed } from "./state/results.ts";
import { goTo } from "./state/route.ts";
import { settings } from "./state/settings.ts";

/** Keys that work anywhere but in text fields; they can be switched off. */
export function listenToKeys(): void {
  globalThis.addEventListener("keydown", (event: KeyboardEvent) => {
    const target = event.target as HTMLElement | null;
    const isTyping = target?.matches(
      "input:not([type=radio]):not([type=checkbox]):not([type=range]):not([type=file]), select, textarea",
    );
    if (!settings.value.keys || !plan.value) return;
    if (event.altKey) {
      if (event.key !== "ArrowDown" || isTyping || target?.matches("select")) return;
      event.preventDefault();
      editsShown.value = true;
      return;
    }
    if (event.ctrlKey || event.metaKey) {
      if (event.key.toLowerCase() !== "z" || isTyping) return;
      event.preventDefault();
      if (event.shiftKey) redo();
      else undo();
      return;
    }
    if (isTyping) return;
    // On a slider a figure typed is meant for it, and the page is not to go elsewhere.
    if (/^[0-9]$/.test(event.key) && target?.matches("input[type=range]")) return;
    const act =
      actions[event.key] ?? (/^[0-8]$/.test(event.key) ? () => openSheet(Number(event.key)) : undefined);
    if (!act) return;
    event.preventDefault();
    act();
  });
}

const actions: Readonly<Record<string, () => void>> = {
  t: () => {
    twinOpen.value = !twinOpen.value;
  },
  T: () => {
    twinOpen.value = !twinOpen.value;
  },
  ",": () => stepField(-1),
  ".": () => stepField(1),
  "+": () => press("Closer"),
  "=": () => press("Closer"),
  "-": () => press("Farther"),
  f: () => document.querySelector<HTMLInputElement>("input[type=search]")?.focus(),
  "[": () => moveTheLine(-0.05),
  "]": () => moveTheLine(0.05),
  Escape: () => {
    if (twinOpen.value) twinOpen.value = false;
    else pointed.value = null;
  },
};

/** The first press of either puts both maps on the plat. */
function moveTheLine(by: number): void {
  if (!canCompare.value) return;
  if (isComparing.value) moveLine(by);
  else isComparing.value = true;
}

const press = (label: string): void =>
  document.querySelector<HTMLButtonElement>(`button[aria-label="${label}"]`)?.click();

function openSheet(number: number): void {
  const { name } = sheets[number]!;
  goTo({ sheet: name, field: chosenField.value ?? "" });
  focusSheet();
}
