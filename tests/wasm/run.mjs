// Runs a program built as standalone WebAssembly: node tests/wasm/run.mjs PROGRAM.wasm [argument ...]
//
// Gives it what a test program may use: arguments, the PAPPUS_ and GTEST_ environment, a clock, standard output and
// error. There are no files: opening one fails with ENOSYS, as it would in a browser. Any other import ends the run with
// its name, so that portable code which begins to need something of its host is noticed.
// Works with Node 18 (Debian 12) and later.
import { readFileSync, writeSync } from "node:fs";
import { argv, env, exit, hrtime } from "node:process";

const [program, ...rest] = argv.slice(2);
if (program === undefined) {
  console.error("usage: node run.mjs PROGRAM.wasm [argument ...]");
  exit(2);
}

class Exit extends Error {
  constructor(status) {
    super(`exit ${status}`);
    this.status = status;
  }
}

let instance;
// Memory may grow and its buffer be replaced at any call, so that views are made afresh each time.
const view = () => new DataView(instance.exports.memory.buffer);
const bytes = (at, length) => new Uint8Array(instance.exports.memory.buffer, at, length);
const encoder = new TextEncoder();

const writeAll = (fd, data) => {
  for (let at = 0; at < data.length; ) {
    try {
      at += writeSync(fd, data, at);
    } catch (error) {
      if (error.code !== "EAGAIN") throw error; // a full pipe: try again
    }
  }
};

const strings = (list) => {
  const encoded = list.map((text) => encoder.encode(`${text}\0`));
  const size = encoded.reduce((sum, one) => sum + one.length, 0);
  return {
    sizes(countAt, sizeAt) {
      view().setUint32(countAt, encoded.length, true);
      view().setUint32(sizeAt, size, true);
      return 0;
    },
    get(pointersAt, at) {
      encoded.forEach((one, i) => {
        view().setUint32(pointersAt + 4 * i, at, true);
        bytes(at, one.length).set(one);
        at += one.length;
      });
      return 0;
    },
  };
};
const args = strings([program, ...rest]);
const environment = strings(
  Object.entries(env)
    .filter(([name]) => /^(PAPPUS|GTEST)_/.test(name))
    .map(([name, value]) => `${name}=${value}`),
);

const BADF = 8, NOSYS = 52, SPIPE = 70; // of WASI, which Emscripten's musl shares
const wasi = {
  args_sizes_get: args.sizes,
  args_get: args.get,
  environ_sizes_get: environment.sizes,
  environ_get: environment.get,
  proc_exit(status) {
    throw new Exit(status);
  },
  fd_write(fd, vectors, count, writtenAt) {
    if (fd !== 1 && fd !== 2) return BADF;
    let written = 0;
    for (let i = 0; i < count; ++i) {
      const at = view().getUint32(vectors + 8 * i, true);
      const length = view().getUint32(vectors + 8 * i + 4, true);
      writeAll(fd, bytes(at, length));
      written += length;
    }
    view().setUint32(writtenAt, written, true);
    return 0;
  },
  fd_read: () => BADF,
  fd_close: () => 0,
  fd_seek: () => SPIPE,
  fd_fdstat_get(fd, at) {
    if (fd > 2) return BADF;
    bytes(at, 24).fill(0);
    view().setUint8(at, 2); // a character device
    return 0;
  },
  clock_time_get(id, _precision, at) {
    const now = id === 0 ? BigInt(Date.now()) * 1000000n : hrtime.bigint();
    view().setBigUint64(at, now, true);
    return 0;
  },
  clock_res_get(_id, at) {
    view().setBigUint64(at, 1000000n, true);
    return 0;
  },
};

const module = new WebAssembly.Module(readFileSync(program));
const imports = {};
for (const { module: from, name, kind } of WebAssembly.Module.imports(module)) {
  if (kind !== "function") throw new Error(`${program} imports the ${kind} ${from}.${name}, which is not known here`);
  let value;
  if (from === "wasi_snapshot_preview1") value = wasi[name];
  else if (name === "emscripten_notify_memory_growth") value = () => {};
  else if (name.startsWith("__syscall_")) value = () => -NOSYS;
  value ??= () => {
    throw new Error(`${program} called ${from}.${name}, which is not known here`);
  };
  (imports[from] ??= {})[name] = value;
}

instance = new WebAssembly.Instance(module, imports);
try {
  instance.exports._start();
} catch (error) {
  if (error instanceof Exit) exit(error.status);
  console.error(error);
  exit(70); // not a status that a test program gives by itself
}
