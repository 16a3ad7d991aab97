// Runs the extension with a stand-in for VS Code and tells on stdout what it did.
// Arguments: folder of the extension; "starts", "fails" (no such program) or "off" (by setting).
"use strict";

const Module = require("module");
const path = require("path");
const [folder, mode] = process.argv.slice(2);
const seen = {
  started: [], stopped: 0, warnings: [], commands: [], languages: [], asked: [], drawn: [],
  offered: [],
};
const commands = {};

class LanguageClient {
  constructor(id, name, server, client) {
    this.server = server;
    seen.languages = client.documentSelector.map((one) => one.language);
  }
  async start() {
    seen.started.push(this.server.run);
    if (mode === "fails") {
      throw new Error("ENOENT");
    }
  }
  async stop() {
    seen.stopped += 1;
  }
  async sendRequest(method, { command, arguments: words }) {
    seen.asked.push([method, command, words]);
    return { sizes: ["Small", "Large"], chosen: null, svg: "<svg>needles</svg>" };
  }
}

const vscode = {
  workspace: {
    getConfiguration: () => ({
      get: (key) => ({ checkAsYouType: mode !== "off", program: "my-sockscript" })[key],
    }),
    onDidChangeConfiguration: () => ({ dispose() {} }),
  },
  ViewColumn: { Beside: -2 },
  window: {
    activeTextEditor: {
      document: { languageId: "sockscript", uri: "file:///sock.sockscript" },
      selection: { active: { line: 7 } },
    },
    showWarningMessage: async (text) => void seen.warnings.push(text),
    showQuickPick: async (items) => (seen.offered.push(items), items[1]),
    onDidChangeTextEditorSelection: () => ({ dispose() {} }),
    createWebviewPanel: (kind, title, where, options) => ({
      onDidDispose() {},
      webview: { set html(text) { seen.drawn.push([options.enableScripts, text]); } },
    }),
  },
  commands: {
    registerCommand: (name, run) => {
      seen.commands.push(name);
      commands[name] = run;
      return { dispose() {} };
    },
    executeCommand: async () => {},
  },
};
const stands = {
  vscode,
  "vscode-languageclient/node": { LanguageClient, TransportKind: { stdio: 0 } },
};
const load = Module._load;
Module._load = (request, ...rest) => stands[request] || load(request, ...rest);

async function main() {
  const extension = require(path.join(folder, "extension.js"));
  await extension.activate({ subscriptions: [] });
  await commands["sockscript.restart"]();
  if (mode !== "off") {
    await commands["sockscript.showNeedles"]();
    await commands["sockscript.chooseSize"]();
  }
  await extension.deactivate();
  process.stdout.write(JSON.stringify(seen));
}

main();
