#!/usr/bin/env node
// The command `dialbook`. Plain JavaScript and committed, so that it is there right after an install: it checks Node,
// builds the package where that is missing or older than its sources, and hands over.

const { existsSync, mkdirSync, rmSync, statSync } = require("node:fs");
const { join } = require("node:path");
const { pathToFileURL } = require("node:url");

const needed = [20, 19];
const abandonedMs = 180_000;
const home = join(__dirname, "..");

function oldNode() {
  const [major, minor] = process.versions.node.split(".").map(Number);
  return major < needed[0] || (major === needed[0] && minor < needed[1]);
}

async function buildIfNeeded() {
  // a kernel started by a running command uses what that command was built from
  if (process.env.DIALBOOK_BUILT === "1" && existsSync(join(home, "dist", "kernel", "cli.js"))) return;
  if (!existsSync(join(home, "src"))) return;
  const { build, isStale } = await import(pathToFileURL(join(home, "scripts", "build.mjs")).href);
  if (!isStale()) return;
  await alone(async () => {
    if (!isStale()) return;
    process.stderr.write("dialbook: building…\n");
    await build();
  });
}

/** Two commands started at once must not swap the folder under each other: the second waits for the first. */
async function alone(work) {
  const lock = join(home, "dist.lock");
  while (!taken(lock)) await new Promise((resolve) => setTimeout(resolve, 200));
  try {
    await work();
  } finally {
    rmSync(lock, { recursive: true, force: true });
  }
}

function taken(lock) {
  try {
    mkdirSync(lock);
    return true;
  } catch {
    // left behind by a command that was killed
    if (existsSync(lock) && Date.now() - statSync(lock).mtimeMs > abandonedMs) rmSync(lock, { recursive: true });
    return false;
  }
}

async function start() {
  if (oldNode()) {
    throw new Error(
      `Node ${needed.join(".")} or newer is needed, this is ${process.versions.node}; install it from nodejs.org`,
    );
  }
  await buildIfNeeded();
  const { main } = require(join(home, "dist", "kernel", "cli.js"));
  return main(process.argv.slice(2));
}

start().then(
  (code) => {
    process.exitCode = code;
  },
  (error) => {
    process.stderr.write(`dialbook: ${error.message}\n`);
    process.exitCode = 1;
  },
);
