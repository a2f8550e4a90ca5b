/** Hand bytes to the browser as a file to keep. */
export function download(name: string, bytes: Uint8Array<ArrayBuffer>, type: string): void {
  const link = document.createElement("a");
  link.href = URL.createObjectURL(new Blob([bytes], { type }));
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 10_000);
}
