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

exports.activate = function activate(context) {
  context.subscriptions.push(
    vscode.commands.registerCommand("sockscript.restart", restart),
    vscode.workspace.onDidChangeConfiguration((event) => {
      if (event.affectsConfiguration("sockscript")) {
        return restart();
      }
    }));
  return start();
};

exports.deactivate = stop;
