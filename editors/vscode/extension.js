// Starts `sockscript language-server` for open patterns and machine profiles.
"use strict";

const vscode = require("vscode");
const { LanguageClient, TransportKind } = require("vscode-languageclient/node");

let client;

function settings() {
  return vscode.workspace.getConfiguration("sockscript");
}

async function start() {
  if (!settings().get("checkAsYouType", true)) {
    return;
  }
  const program = settings().get("program", "sockscript") || "sockscript";
  const run = { command: program, args: ["language-server"], transport: TransportKind.stdio };
  const starting = new LanguageClient(
    "sockscript", "Sockscript", { run, debug: run },
    { documentSelector: [{ language: "sockscript" }] });
  client = starting;
  try {
    await starting.start();
  } catch (error) {
    client = undefined;
    const choice = await vscode.window.showWarningMessage(
      `The program '${program}' could not be started, so patterns are coloured but not checked. `
      + "Install Sockscript as its README says, or write the whole path to the program into the "
      + "setting 'sockscript.program'.", "Open the setting");
    if (choice) {
      await vscode.commands.executeCommand(
        "workbench.action.openSettings", "sockscript.program");
    }
  }
}

async function stop() {
  const stopping = client;
  client = undefined;
  if (stopping) {
    await stopping.stop();
  }
}

async function restart() {
  await stop();
  await start();
}

// ---- the needles after the line of the cursor, beside the pattern

let panel;
let asked = 0;

function ask(command, ...words) {
  return client ? client.sendRequest("workspace/executeCommand", { command, arguments: words })
    : Promise.resolve(null);
}

function page(body) {
  const policy = "default-src 'none'; style-src 'unsafe-inline'";
  return `<!DOCTYPE html><html lang="en"><head><meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${policy}">
<style>body { background: #fff; color: #000; } svg { max-width: 100%; height: auto; }</style>
</head><body>${body}</body></html>`;
}

async function drawNeedles(editor) {
  if (!panel || !editor || editor.document.languageId !== "sockscript") {
    return;
  }
  const mine = ++asked;
  const found = await ask("sockscript.server.needles", editor.document.uri.toString(),
                          editor.selection.active.line);
  if (panel && mine === asked) {
    panel.webview.html = page(found ? found.svg
      : "<p>Nothing has been knitted up to this line, or the pattern has slips to mend first.</p>");
  }
}

async function showNeedles() {
  if (!panel) {
    panel = vscode.window.createWebviewPanel("sockscriptNeedles", "Needles",
      { viewColumn: vscode.ViewColumn.Beside, preserveFocus: true }, { enableScripts: false });
    panel.onDidDispose(() => { panel = undefined; });
  }
  await drawNeedles(vscode.window.activeTextEditor);
}

async function chooseSize() {
  const editor = vscode.window.activeTextEditor;
  const found = editor && await ask("sockscript.server.sizes", editor.document.uri.toString());
  const size = await vscode.window.showQuickPick(found ? found.sizes : [],
    { placeHolder: "The size whose stitch counts stand at the ends of the lines" });
  if (size) {
    await ask("sockscript.server.chooseSize", size);
    await drawNeedles(editor);
  }
}

exports.activate = function activate(context) {
  context.subscriptions.push(
    vscode.commands.registerCommand("sockscript.restart", restart),
    vscode.commands.registerCommand("sockscript.showNeedles", showNeedles),
    vscode.commands.registerCommand("sockscript.chooseSize", chooseSize),
    vscode.window.onDidChangeTextEditorSelection((event) => drawNeedles(event.textEditor)),
    vscode.workspace.onDidChangeConfiguration((event) => {
      if (event.affectsConfiguration("sockscript")) {
        return restart();
      }
    }));
  return start();
};

exports.deactivate = stop;
