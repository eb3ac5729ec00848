// The engine in a worker of its own: questions in, answers out, in order. The page goes on while it thinks.
import { opened, unpacked } from './packed.mjs';

// What the worker does with the engine's own code before it.
const BESIDE = `
let engine = null;
onmessage = async ({ data }) => {
  if (data.bytes) {
    engine = await linerwright_engine({ wasmBinary: data.bytes });
    postMessage({ ready: true });
    return;
  }
  const size = engine.lengthBytesUTF8(data.question) + 1;
  const at = engine._malloc(size);
  engine.stringToUTF8(data.question, at, size);
  const began = performance.now();
  const answer = engine.UTF8ToString(engine._linerwright_answer(at));
  engine._free(at);
  postMessage({ number: data.number, answer, took: performance.now() - began });
};`;

export async function startEngine() {
  const [code, bytes] = await Promise.all([
    unpacked('engine-code'), opened('engine-bytes').then((r) => r.arrayBuffer())]);
  for (const id of ['engine-code', 'engine-bytes']) document.getElementById(id).remove();
  let worker, waiting, number = 0;
  const took = {};
  const begin = () => new Promise((ready, failed) => {
    waiting = new Map();
    const address = URL.createObjectURL(new Blob([code, BESIDE], { type: 'text/javascript' }));
    worker = new Worker(address);
    worker.onmessage = ({ data }) => {
      if (data.ready) return URL.revokeObjectURL(address), ready();
      const { answered, ask } = waiting.get(data.number);
      waiting.delete(data.number);
      took[ask] = data.took;
      answered(JSON.parse(data.answer));
    };
    worker.onerror = (error) => {
      const why = { failed: [`the engine stopped: ${error.message || 'for a reason that is not known'}`] };
      for (const { answered } of waiting.values()) answered(why);
      waiting = new Map();
      failed(new Error(why.failed[0]));
    };
    worker.postMessage({ bytes: bytes.slice(0) });
  });
  await begin();
  return {
    took, // milliseconds that the last answer of each sort took
    ask(question) {
      return new Promise((answered) => {
        number += 1;
        waiting.set(number, { answered, ask: question.ask });
        worker.postMessage({ number, question: JSON.stringify(question) });
      });
    },
    async again() {
      worker.terminate();
      await begin();
    },
  };
}
