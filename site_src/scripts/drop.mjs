/** Files dropped anywhere on the page, with a hint while one is dragged over it. */

const GONE = 600; // ms without a sign of a dragged file; browsers give one every 50 to 350

/** @param {HTMLElement} hint @param {(file: File) => void} act */
export function onDrop(hint, act) {
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
    act(file);
  });
}
