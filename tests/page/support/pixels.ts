import type { Page } from "playwright-core";

/** Pixels of each colour on the map. */
export async function pixelsOf(page: Page, colours: readonly string[]): Promise<number[]> {
  const picture = await page.locator(".plat .ground-view").screenshot();
  return page.evaluate(
    async ({ base64, colours }) => {
      const bytes = Uint8Array.from(atob(base64), (letter) => letter.charCodeAt(0));
      const bitmap = await createImageBitmap(new Blob([bytes], { type: "image/png" }));
      const canvas = new OffscreenCanvas(bitmap.width, bitmap.height);
      const ink = canvas.getContext("2d")!;
      ink.drawImage(bitmap, 0, 0);
      const { data } = ink.getImageData(0, 0, bitmap.width, bitmap.height);
      const count = new Map<string, number>();
      for (let at = 0; at < data.length; at += 4) {
        const colour = `#${[...data.slice(at, at + 3)].map((part) => part.toString(16).padStart(2, "0")).join("")}`;
        count.set(colour, (count.get(colour) ?? 0) + 1);
      }
      return colours.map((colour) => count.get(colour) ?? 0);
    },
    { base64: picture.toString("base64"), colours },
  );
}
