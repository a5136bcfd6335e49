import { html, render } from 'lit';
import imageUrl from '../../homebrew-demo/first-light/first-light.bin?url';
import labels from '../../homebrew-demo/first-light/first-light.lbl?raw';
import scenario from '../../homebrew-demo/first-light/late-lcd.json?raw';
import '../../src/ui/page.css';
import '../../src/ui/shell.ts';
import axe from 'axe-core';
import { KeptFiles } from '../../src/ui/kept/kept-files.ts';

/** First Light as somebody's own files. */
export const OWN_ID = 'own:first-light.nes';
export const LABELS = new File([labels], 'first-light.lbl');
export const SCENARIO = new File([scenario], 'late-lcd.json', { type: 'application/json' });
export const imageBytes = async (): Promise<Uint8Array<ArrayBuffer>> =>
  new Uint8Array(await (await fetch(imageUrl)).arrayBuffer());

/** The page, loaded at this address; `undefined`: at the one that stands. */
export function loadPage(hash?: string): void {
  document.body.replaceChildren();
  if (hash !== undefined) history.replaceState(null, '', `${location.pathname}${location.search}${hash}`);
  render(
    html`<main><latelight-page></latelight-page></main>`,
    document.body.appendChild(document.createElement('div')),
  );
}

/** As a browser that has never seen it. */
export async function forgetPage(): Promise<void> {
  document.body.replaceChildren();
  history.replaceState(null, '', location.pathname + location.search);
  localStorage.clear();
  for (const name of ['own', 'lag-map']) await new KeptFiles().remove(name);
}

const shell = () => document.querySelector('latelight-page')!;
export const bench = () => shell().shadowRoot!.querySelector('latelight-play')!;

/** Drop files on the page, as a pointer does. */
export function drop(...files: File[]): void {
  const dataTransfer = new DataTransfer();
  for (const file of files) dataTransfer.items.add(file);
  for (const type of ['dragenter', 'dragover', 'drop'])
    document.body.dispatchEvent(new DragEvent(type, { dataTransfer, bubbles: true, composed: true, cancelable: true }));
}

/** What axe finds wrong. */
export async function violations(): Promise<string[]> {
  const found = await axe.run(document.body, { rules: { 'target-size': { enabled: true } } });
  return found.violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ target }) => target).join(' ')}`);
}
