/** The page that weighs stock: the engine, and the form. */
import { answered, startEngine } from "./pageengine.mjs";
import { StockForm } from "./stockform.mjs";

const form = /** @type {HTMLFormElement} */ (document.getElementById("stock-form"));
const stock = new StockForm(form, startEngine(), () => "metric");
stock.refresh().then(answered, () => {}); // a start that fails is told by the engine's line
