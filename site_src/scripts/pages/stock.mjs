/** The page that weighs stock: the engine, the form of a piece, and that of a sheet of balsa. */
import { by } from "../page/dom.mjs";
import { onDo } from "../page/events.mjs";
import { answered, fail, startEngine } from "../page/pageengine.mjs";
import { StockForm } from "../page/stockform.mjs";
import { SheetForm } from "./stock/sheet.mjs";

const engine = startEngine();
const stock = new StockForm(by("stock-form", HTMLFormElement), engine, () => "metric");
const sheet = new SheetForm(engine);
onDo(sheet.doers, fail);
// A start that fails is told by the engine's line.
stock
  .refresh()
  .then(() => sheet.refresh())
  .then(answered, () => {});
