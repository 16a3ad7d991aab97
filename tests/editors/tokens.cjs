// Tokens of a text by a TextMate grammar, with VS Code's own engine.
// Arguments: folder of node modules, file of the grammar.  Text on stdin, JSON on stdout.
"use strict";

const fs = require("fs");
const path = require("path");
const [modules, grammarFile] = process.argv.slice(2);
const oniguruma = require(path.join(modules, "vscode-oniguruma"));
const textmate = require(path.join(modules, "vscode-textmate"));

async function main() {
  const wasm = fs.readFileSync(path.join(modules, "vscode-oniguruma/release/onig.wasm"));
  await oniguruma.loadWASM(new Uint8Array(wasm).buffer);
  const registry = new textmate.Registry({
    onigLib: Promise.resolve({
      createOnigScanner: (sources) => new oniguruma.OnigScanner(sources),
      createOnigString: (text) => new oniguruma.OnigString(text),
    }),
    loadGrammar: async () =>
      textmate.parseRawGrammar(fs.readFileSync(grammarFile, "utf8"), "grammar.json"),
  });
  const grammar = await registry.loadGrammar("source.sockscript");
  let stack = textmate.INITIAL;
  const lines = fs.readFileSync(0, "utf8").split("\n").map((line) => {
    const result = grammar.tokenizeLine(line, stack);
    stack = result.ruleStack;
    return result.tokens.map((t) => [t.startIndex, Math.min(t.endIndex, line.length), t.scopes]);
  });
  process.stdout.write(JSON.stringify(lines));
}

main();
