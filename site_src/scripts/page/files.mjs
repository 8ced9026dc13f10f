/** Files that come in, chosen or dropped anywhere on the page, and files that go out. */
import { by } from "./dom.mjs";

/** Lists of parts, which are shown in the dialog for tables before anything comes in. */
export const LIST = /\.(csv|tsv|txt|ods|xlsx|xls)$/i;
/** Those of them that no text is to be made of. */
export const WORKBOOK = /\.(ods|xlsx|xls)$/i;

const GONE = 600; // ms without a sign of a dragged file; browsers give one every 50 to 350
const ADDRESS_LASTS = 10_000; // ms for the browser to take the file

/** @param {string} text @param {string} name @param {string} [type] */
export function download(text, name, type = "application/json") {
  const address = URL.createObjectURL(new Blob([text], { type }));
  const anchor = document.createElement("a");
  anchor.href = address;
  anchor.download = name;
  anchor.click();
  setTimeout(() => URL.revokeObjectURL(address), ADDRESS_LASTS);
}

/** Act on each file that is chosen. @param {(file: File) => void} act @returns {() => void} what asks for one */
export function onChosen(act) {
  const input = by("file", HTMLInputElement);
  input.addEventListener("change", () => {
    const file = input.files?.[0];
    input.value = "";
    if (file) act(file);
  });
  return () => input.click();
}

/** Ask for one file by an entry of its own. @param {string} kinds @param {(file: File) => void} act */
export function chooseFile(kinds, act) {
  const input = document.createElement("input");
  input.type = "file";
  input.accept = kinds;
  input.addEventListener("change", () => {
    const file = input.files?.[0];
    if (file) act(file);
  });
  input.click();
}

/**
 * Act on each file that is dropped, with a hint while one is dragged.
 * @param {(file: File, place: Element) => void} act `place`: what it was dropped on
 */
export function onDrop(act) {
  const hint = by("drop-hint");
  let timer = 0;
  const hide = () => {
    clearTimeout(timer);
    hint.hidden = true;
  };
  const over = (/** @type {DragEvent} */ event) => {
    if (!event.dataTransfer?.types.includes("Files")) return; // dragged text goes into fields as ever
    event.preventDefault();
    event.dataTransfer.dropEffect = "copy";
    hint.hidden = false;
    clearTimeout(timer);
    timer = window.setTimeout(hide, GONE);
  };
  document.addEventListener("dragenter", over);
  document.addEventListener("dragover", over);
  document.addEventListener("drop", (event) => {
    const file = event.dataTransfer?.files[0];
    hide();
    if (!file) return;
    event.preventDefault();
    act(file, event.target instanceof Element ? event.target : document.body);
  });
}
