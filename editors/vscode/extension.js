// Starts `sockscript language-server` for open patterns and machine profiles.
"use strict";

const os = require("os");
const vscode = require("vscode");
const { CloseAction, ErrorAction, LanguageClient } = require("vscode-languageclient/node");

const AGAIN = "Sockscript: Start the check anew";
const OFTEN = 4;

let client;

// What goes wrong while it starts is told in one sentence of ours; the rest stands in the output.
class Client extends LanguageClient {
  error(message, data, show = true) {
    super.error(message, data, this.checks ? show : false);
  }
}

function settings() {
  return vscode.workspace.getConfiguration("sockscript");
}

async function start() {
  if (!settings().get("checkAsYouType", true)) {
    return;
  }
  const program = settings().get("program", "sockscript") || "sockscript";
  // Never in the folder of the pattern: Windows would look for the program there first, and the
  // extension runs in folders that nobody has said she trusts.
  const run = { command: program, args: ["language-server"], options: { cwd: os.homedir() } };
  let starting;
  let restarts = 0;
  const closed = () => (starting.checks && restarts++ < OFTEN ? { action: CloseAction.Restart }
    : { action: CloseAction.DoNotRestart,
        message: `The check has stopped. The command "${AGAIN}" starts it again.` });
  starting = new Client("sockscript", "Sockscript", { run, debug: run }, {
    documentSelector: [{ language: "sockscript" }],
    initializationFailedHandler: () => false,
    errorHandler: { error: () => ({ action: ErrorAction.Continue, handled: true }), closed },
  });
  client = starting;
  try {
    await starting.start();
    starting.checks = true;
  } catch (error) {
    client = undefined;
    // Not waited for: no command runs before the extension is there.
    void tell(program, starting);
  }
}

async function tell(program, starting) {
  const choice = await vscode.window.showWarningMessage(
    `The program '${program}' could not be started, or has no language server, so patterns are `
    + "coloured but not checked. Write the whole path to the program into the setting "
    + "'Sockscript: Program'; or install Sockscript with its language server as its README says, "
    + `and choose the command "${AGAIN}".`, "Open the setting", "See what it said");
  if (choice === "Open the setting") {
    await vscode.commands.executeCommand("workbench.action.openSettings", "sockscript.program");
  } else if (choice) {
    starting.outputChannel.show();
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
