// Runs the extension with a stand-in for VS Code and tells on stdout what it did.
// Arguments: folder of the extension; "starts", "fails" (no such program) or "off" (by setting).
"use strict";

const Module = require("module");
const path = require("path");
const [folder, mode] = process.argv.slice(2);
const seen = {
  started: [], stopped: 0, warnings: [], commands: [], languages: [], asked: [], drawn: [],
  offered: [], told: [], closed: [],
};
const commands = {};

class LanguageClient {
  constructor(id, name, server, client) {
    // The client adds an argument of its own for a transport that is named.
    this.server = server;
    this.client = client;
    if (server.run.transport !== undefined) {
      server.run.args.push("--stdio");
    }
    seen.languages = client.documentSelector.map((one) => one.language);
  }
  error(message, data, show) {
    seen.told.push([message, show]);
  }
  async start() {
    seen.started.push(this.server.run);
    if (mode === "fails") {
      this.error("client: couldn't create connection", undefined, "force");
      seen.closed.push(this.client.errorHandler.closed().action);
      throw new Error("ENOENT");
    }
  }
  async stop() {
    // As if it had fallen over and over again while it ran.
    this.error("a request failed", undefined, "force");
    for (let fall = 0; fall < 6; fall += 1) {
      seen.closed.push(this.client.errorHandler.closed().action);
    }
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
    // Nobody ever answers: nothing may wait for it.
    showWarningMessage: (text) => (seen.warnings.push(text), new Promise(() => {})),
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
  "vscode-languageclient/node": {
    LanguageClient, TransportKind: { stdio: 0 }, ErrorAction: { Continue: 1 },
    CloseAction: { DoNotRestart: "stay", Restart: "again" },
  },
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
