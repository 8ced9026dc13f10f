// Writes Pyodide's glue without what nobody uses: node make_glue.mjs PYODIDE_FOLDER TARGET; prints {exports, told}: the
// names that it takes from the program, null for all, and what was done.
//
// `pyodide.asm.mjs` names each export of the program, and holds a library for graphics, sound and sockets; the program
// that is sent calls little of it. Left out, found in the syntax tree: what the program does not import; names of exports
// and functions that nothing which stays, nor pyodide.mjs, nor our own scripts, mentions in any way; and the table that
// programs loaded later would look names up in, since none is. Functions in JavaScript whose address the program takes
// become functions of its own all at once (wrap_all.mjs), not by a module each. The places are known by their shape: if
// one of them is not found as often as it must be, the glue stays as it came, and that is said.
import { copyFile, readdir, readFile, writeFile } from "node:fs/promises";
import { resolve } from "node:path";
import { parse } from "acorn";
import { wrapAll } from "./wrap_all.mjs";

const [folder, target] = process.argv.slice(2).map((path) => resolve(path));
const scripts = resolve(import.meta.dirname, "../scripts/engine");
const text = await readFile(`${folder}/pyodide.asm.mjs`, "utf8");
const program = await WebAssembly.compile(await readFile(`${folder}/pyodide.asm.wasm`));
const outside = await Promise.all(
  [`${folder}/pyodide.mjs`, ...(await readdir(scripts)).map((name) => `${scripts}/${name}`)].map((path) =>
    readFile(path, "utf8"),
  ),
);
const imported = new Set(WebAssembly.Module.imports(program).map(({ name }) => name));
const LATER = "updateGOT(origExports);"; // fills the table for programs loaded later
// One by one, in the addresses that the program takes of functions in JavaScript, becomes all of them at once.
const BEFORE_ALL = "var reportUndefinedSymbols=()=>{";
const ALL = `var wrappedAtOnce=new Map;${wrapAll};${BEFORE_ALL}{
const open=Object.keys(GOT).filter(name=>GOT[name].value==-1).map(name=>resolveGlobalSymbol(name,true).sym);
const plain=new Set(open.filter(each=>typeof each=="function"&&each.sig&&!getFunctionAddress(each)));
wrappedAtOnce=wrapAll([...plain],wasmTypeCodes)}`;
const ONE = "var wrapped=convertJsFunctionToWasm(func,sig);setWasmTableEntry(ret,wrapped)";
const TAKEN = "setWasmTableEntry(ret,wrappedAtOnce.get(func)??convertJsFunctionToWasm(func,sig))";
const PURE = new Set(["ArrowFunctionExpression", "FunctionExpression", "Identifier", "Literal"]);

/** @typedef {{start: number, end: number, name: string, mentions: Set<string>}} Piece it may go, unless it is mentioned */

function shortened() {
  const tree = parse(text, { ecmaVersion: "latest", sourceType: "module" }).body;
  const factory = one(
    tree.filter(({ type }) => type === "FunctionDeclaration"),
    "the factory",
  );
  const statements = factory.body.body;
  const named = (name) =>
    one(
      statements.filter((each) => each.id?.name === name || first(each)?.id.name === name),
      name,
    );
  const [assigned, library] = [named("assignWasmExports").body.body, first(named("wasmImports")).init.properties];
  const exports = assigned.map(exportOf);
  const pieces = [...exports, ...statements.flatMap(pieceOf)];
  const apart = new Set([named("assignWasmExports"), named("wasmImports"), ...statements.filter(isListOfNames)]);
  const unused = library.filter(({ key }) => !imported.has(key.name));
  const rest = statements.filter((each) => !apart.has(each) && pieceOf(each).length === 0);
  const roots = [...rest, ...library.filter(({ key }) => imported.has(key.name)).map(({ value }) => value)];
  const kept = reached(pieces, [
    ...roots.map((each) => mentionsIn(each)),
    wordsOutside(),
    new Set(exports.flatMap(({ stays, name }) => (stays ? [name] : []))),
  ]);
  const going = [...pieces.filter((each) => !kept.has(each)), ...unused, place(LATER)];
  const names = new Set(exports.filter((each) => !kept.has(each)).map(({ name }) => name));
  const lists = statements.filter(isListOfNames).map((each) => withoutNames(each, names));
  const instead = [
    { ...place(BEFORE_ALL), instead: ALL },
    { ...place(ONE), instead: TAKEN },
  ];
  const lean = cut(going, [...lists, ...instead]);
  const words = new Set([...wordsOutside(), ...imported, ...lean.match(/\w+/g)]);
  const taken = WebAssembly.Module.exports(program).filter(({ name }) => words.has(name));
  return { lean, exports: taken.map(({ name }) => name) };
}

/** @template T @param {T[]} found @param {string} what @returns {T} */
function one(found, what) {
  if (found.length !== 1) throw new Error(`${what} was found ${found.length} times and not once`);
  return found[0];
}

const first = (statement) => (statement.type === "VariableDeclaration" ? statement.declarations[0] : undefined);

/**
 * Return a name of an export as a piece: `_malloc=Module["_malloc"]=wasmExports["malloc"]`. One in another shape, as the
 * memory's, stays.
 */
function exportOf({ start, end }) {
  const found = text.slice(start, end).match(/^(\w+)=Module\["\1"\]=((?:[\w"[\]]+=)*)wasmExports\["\w+"\]/);
  if (!found) throw new Error(`an export is named in another way (${text.slice(start, end).slice(0, 60)})`);
  const [, name = "", alsoNamed] = found;
  return { start, end, name, stays: Boolean(alsoNamed), mentions: new Set() };
}

/** Return a statement as a piece if it does nothing but name something. @returns {Piece[]} */
function pieceOf(statement) {
  const piece = (name) => [{ start: statement.start, end: statement.end, name, mentions: mentionsIn(statement) }];
  const { type, expression } = statement;
  if (type === "FunctionDeclaration")
    return /^(assignWasmExports|createWasm)$/.test(statement.id.name) ? [] : piece(statement.id.name);
  if (type === "VariableDeclaration" && statement.declarations.length === 1) {
    const { id, init } = statement.declarations[0];
    return id.type === "Identifier" && id.name !== "wasmImports" && init && isPure(init) ? piece(id.name) : [];
  }
  const assigned = type === "ExpressionStatement" && expression.type === "AssignmentExpression" ? expression : null;
  if (assigned?.left.type !== "MemberExpression" || !isPure(assigned.right)) return [];
  const { object } = assigned.left; // `_glHint.sig = "vii"`
  return object.type === "Identifier" && object.name !== "Module" ? piece(object.name) : [];
}

function isPure(node) {
  if (PURE.has(node.type)) return true;
  if (node.type === "ArrayExpression") return node.elements.every(isPure);
  if (node.type === "UnaryExpression") return isPure(node.argument);
  const plain = (each) => each.type === "Property" && !each.computed && isPure(each.value);
  return node.type === "ObjectExpression" && node.properties.every(plain);
}

const isListOfNames = (each) =>
  each.type === "VariableDeclaration" && each.declarations.length > 1 && each.declarations.every(({ init }) => !init);

/** Return each name, and each text that could be one, in a part of the syntax tree. @returns {Set<string>} */
function mentionsIn(node, found = new Set()) {
  if (Array.isArray(node)) for (const each of node) mentionsIn(each, found);
  else if (node && typeof node === "object") {
    if (node.type === "Identifier") found.add(node.name);
    else if (node.type === "Literal" && typeof node.value === "string")
      for (const word of node.value.match(/\w+/g) ?? []) found.add(word);
    else for (const inner of Object.values(node)) mentionsIn(inner, found);
  }
  return found;
}

/** @param {Piece[]} pieces @param {Set<string>[]} mentions of what stays for certain @returns {Set<Piece>} */
function reached(pieces, mentions) {
  const byName = Map.groupBy(pieces, ({ name }) => name);
  const kept = new Set();
  const open = [...mentions];
  for (let names = open.pop(); names; names = open.pop()) {
    for (const name of names) {
      for (const piece of byName.get(name) ?? []) {
        open.push(piece.mentions);
        kept.add(piece);
      }
      byName.delete(name);
    }
  }
  return kept;
}

/** Return each word of what calls the glue from outside. @returns {Set<string>} */
function wordsOutside() {
  const words = [...outside.join("\n").matchAll(/[\w$]+/g)].map(([word]) => word);
  return new Set(words);
}

/** @param {string} wanted @returns {{start: number, end: number}} where it stands */
function place(wanted) {
  one(text.split(wanted).slice(1), wanted);
  return { start: text.indexOf(wanted), end: text.indexOf(wanted) + wanted.length };
}

/** Return where a statement, or an entry of a list, ends with what parts it from the next. */
const endOf = ({ end }) => end + /^[;,]?/.exec(text.slice(end, end + 1))[0].length;

function withoutNames(statement, gone) {
  const names = statement.declarations.map(({ id }) => id.name).filter((name) => !gone.has(name));
  return { start: statement.start, end: statement.end, instead: `${statement.kind} ${names.join(",")};` };
}

/** @param {{start: number, end: number}[]} going @param {{start: number, end: number, instead: string}[]} changed */
function cut(going, changed) {
  let at = 0;
  let lean = "";
  for (const each of [...going, ...changed].sort((one, other) => one.start - other.start)) {
    if (each.start < at) throw new Error("a place lies within another one");
    lean += text.slice(at, each.start) + (each.instead ?? "");
    at = endOf(each);
  }
  return lean + text.slice(at);
}

try {
  const { lean, exports } = shortened();
  await writeFile(target, lean);
  console.log(JSON.stringify({ exports, told: `The glue: ${lean.length} of ${text.length} letters.` }));
} catch (error) {
  await copyFile(`${folder}/pyodide.asm.mjs`, target);
  console.log(JSON.stringify({ exports: null, told: `The glue stays as it came: ${error.message}.` }));
}
process.exit(0);
