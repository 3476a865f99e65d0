/** Hands a file to the person. */
export function save(name: string, content: Uint8Array | string): void {
  const url = URL.createObjectURL(new Blob([content as BlobPart], { type: 'application/octet-stream' }));
  const a = document.createElement('a');
  a.href = url;
  a.download = name;
  a.click();
  setTimeout(() => URL.revokeObjectURL(url), 10_000);
}
