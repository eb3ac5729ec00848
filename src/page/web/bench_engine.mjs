// The engine in workers: questions in, answers out, in order. The page goes on while they think; what takes long has a worker of
// its own, which may be stopped.
import { opened, unpacked } from './packed.mjs';

// What a worker does with the engine's own code before it.
const BESIDE = `
let engine = null;
onmessage = async ({ data }) => {
  if (data.bytes) {
    engine = await linerwright_engine({ wasmBinary: data.bytes, told: (now) => postMessage({ now }) });
    postMessage({ ready: true });
    return;
  }
  const size = engine.lengthBytesUTF8(data.question) + 1;
  const at = engine._malloc(size);
  engine.stringToUTF8(data.question, at, size);
  const began = performance.now();
  const answer = engine.UTF8ToString(engine._linerwright_answer(at));
  engine._free(at);
  postMessage({ number: data.number, answer, took: performance.now() - began, memory: engine.HEAPU8?.length });
};`;

export class Stopped extends Error {}

export class Engine {
  // `told` hears of long work while it goes on.
  constructor(address, bytes, told) {
    this.took = {}; // milliseconds that the last answer of each sort took
    this.waiting = new Map();
    this.number = 0;
    this.worker = new Worker(address);
    this.ready = new Promise((ready, failed) => {
      this.worker.onmessage = ({ data }) => {
        if (data.ready) return ready();
        if (data.now) return told?.(JSON.parse(data.now));
        const { answered, ask } = this.waiting.get(data.number);
        this.waiting.delete(data.number);
        this.took[ask] = data.took;
        this.memory = data.memory;
        answered(JSON.parse(data.answer));
      };
      this.worker.onerror = (error) => {
        const why = `the engine stopped: ${error.message || 'for a reason that is not known'}`;
        for (const { answered } of this.waiting.values()) answered({ failed: [why] });
        this.waiting = new Map();
        failed(new Error(why));
      };
    });
    this.worker.postMessage({ bytes: bytes.slice(0) });
  }

  async ask(question) {
    await this.ready;
    return new Promise((answered, stopped) => {
      this.number += 1;
      this.waiting.set(this.number, { answered, stopped, ask: question.ask });
      this.worker.postMessage({ number: this.number, question: JSON.stringify(question) });
    });
  }

  // Whoever waits for an answer hears that there is none.
  stop() {
    this.worker.terminate();
    for (const { stopped } of this.waiting.values()) stopped(new Stopped('stopped'));
    this.waiting = new Map();
  }
}

// Gives engines: start(told).
export async function engines() {
  const [code, bytes] = await Promise.all([
    unpacked('engine-code'), opened('engine-bytes').then((r) => r.arrayBuffer())]);
  for (const id of ['engine-code', 'engine-bytes']) document.getElementById(id).remove();
  const address = URL.createObjectURL(new Blob([code, BESIDE], { type: 'text/javascript' }));
  return { start: (told) => new Engine(address, bytes, told) };
}
