/** The page that weighs stock: the engine, and the form. */
import { by } from "../page/dom.mjs";
import { answered, startEngine } from "../page/pageengine.mjs";
import { StockForm } from "../page/stockform.mjs";

const stock = new StockForm(by("stock-form", HTMLFormElement), startEngine(), () => "metric");
stock.refresh().then(answered, () => {}); // a start that fails is told by the engine's line
