/** Opens part documents from files; what is wrong with one is told, never thrown. */
import { actions } from '../shop.ts';

/** Nothing that a hand wrote is larger, bytes. */
const LARGEST = 5_000_000;

export async function openFiles(files: File[]): Promise<void> {
  for (const file of files) {
    if (file.size > LARGEST) actions.set({ notice: `${file.name} is too large to be a part document` });
    else actions.openText(await file.text(), file.name);
  }
}
