// Asks the engine's WebAssembly what questions.cpp asked the native one, and compares the answers.
// node replay.mjs FOLDER < questions; FOLDER holds engine.js and engine.wasm. Exit code 1 where an answer about the first job (the
// sample) differs, or those about more than one fitting in 32 of the second, which is random: src/engine/README.md says why one may.
// A job laid on boards counts as a fitting.
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { resolve } from 'node:path';

const folder = resolve(process.argv[2]);
const make = createRequire(import.meta.url)(`${folder}/engine.js`);
const engine = await make({ wasmBinary: readFileSync(`${folder}/engine.wasm`) });

function ask(question) {
  const bytes = engine.lengthBytesUTF8(question) + 1;
  const at = engine._malloc(bytes);
  engine.stringToUTF8(question, at, bytes);
  const answer = engine.UTF8ToString(engine._linerwright_answer(at));
  engine._free(at);
  return answer;
}

function checkSum(bytes) {
  let sum = 2166136261;
  for (const byte of bytes) sum = Math.imul(sum ^ byte, 16777619);
  return sum >>> 0;
}

const lines = readFileSync(0, 'utf8').split('\n');
const seen = {}, unlike = {}, refused = {};
let jobs = 0, fittings = 0, faults = 0;
const odd = new Set();
let slowest = 0;
for (let i = 0; i + 1 < lines.length; i += 2) {
  const question = JSON.parse(lines[i]);
  const began = performance.now();
  const answer = Buffer.from(ask(lines[i]), 'utf8');
  slowest = Math.max(slowest, performance.now() - began);
  if (question.ask === 'open') jobs++;
  if (['files', 'whole'].includes(question.ask) && jobs > 1) fittings++;
  seen[question.ask] = (seen[question.ask] ?? 0) + 1;
  if (answer.subarray(0, 40).includes('"failed"')) refused[question.ask] = (refused[question.ask] ?? 0) + 1;
  const told = `${answer.length} ${checkSum(answer)}`;
  if (told === lines[i + 1]) continue;
  if (jobs > 1 && (question.fitting !== undefined || question.ask === 'whole')) odd.add(`${jobs} ${question.fitting}`);
  else faults++;
  unlike[question.ask] = (unlike[question.ask] ?? 0) + 1;
  console.log(`differs: ${lines[i].slice(0, 100)}: ${told} instead of ${lines[i + 1]}`);
}
console.log(JSON.stringify({ seen, unlike, refused, slowest: Math.round(slowest) }));
process.exit(faults > 0 || odd.size > fittings / 32 || seen.files === undefined ? 1 : 0);
