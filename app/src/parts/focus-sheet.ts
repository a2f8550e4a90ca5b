/** A sheet's parts come one a task; so long is its title waited for, ms. */
const WITHIN_MS = 1_500;

/** Where what had the focus goes away with its sheet, the focus goes to the title of the sheet that opens. */
export function focusSheet(): void {
  const until = performance.now() + WITHIN_MS;
  const look = () => {
    const title = document.querySelector<HTMLElement>("#bench h2, .empty h2");
    if (document.activeElement === document.body && title) {
      title.tabIndex = -1;
      title.focus({ preventScroll: true });
    }
    if (performance.now() < until) setTimeout(look, 50);
  };
  setTimeout(look);
}
