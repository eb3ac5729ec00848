// What leaves the bench: boards, totals, files, sheets on paper. All of it is made in a worker of its own, so that the job can be
// changed meanwhile; what was made of another state of the job says so.
import { Stopped } from './bench_engine.mjs';
import { filesOf, fromBase64, hand, writeInto, zipped } from './bench_files.mjs';

const byId = (id) => document.getElementById(id);

function list(texts) {
  return texts.map((text) => Object.assign(document.createElement('li'), { textContent: text }));
}

export class Make {
  // `job()` gives the job as the engine answered it, `tell` the page's line.
  constructor(engines, job, tell) {
    this.engines = engines;
    this.job = job;
    this.tell = tell;
    this.engine = null;
    this.laid = null; // {text, files}: what the boards and totals shown are of
    const on = (id, act) => byId(id).addEventListener('click', act);
    on('lay', () => this.work(() => this.whole(true)));
    on('count', () => this.work(() => this.whole(false)));
    on('stop', () => this.engine?.stop());
    on('take-files', () => this.work(() => this.takeFiles()));
    on('take-folder', async () => {
      // asked at once: a browser lets a page ask only on a click
      const folder = await window.showDirectoryPicker({ mode: 'readwrite' }).catch(() => null);
      if (folder) this.work(() => this.takeFolder(folder));
    });
    on('print-sheets', () => this.work(() => this.print()));
    byId('take-folder').hidden = !('showDirectoryPicker' in window);
  }

  // One piece of work at a time, in an engine that has the job as it is now and is gone afterwards.
  async work(what) {
    const job = this.job();
    if (this.engine || !job) return;
    for (const id of ['lay', 'count', 'take-files', 'take-folder', 'print-sheets']) byId(id).disabled = true;
    byId('stop').disabled = false;
    byId('work').hidden = false;
    this.show({ step: 'the engine is being started', done: 0 });
    byId('work-picture').replaceChildren();
    this.engine = this.engines.start((now) => this.show(now));
    this.given = filesOf(job);
    this.text = JSON.stringify(this.given);
    try {
      this.open = await this.engine.ask({ ask: 'open', files: this.given });
      if (this.open.failed) throw new Error(this.open.failed.join(' \u2022 '));
      await what();
    } catch (error) {
      if (error instanceof Stopped) this.tell('Stopped; nothing was handed over.');
      else this.tell(error.message, true);
    }
    this.engine.stop();
    this.engine = null;
    byId('work').hidden = true;
    byId('stop').disabled = true;
    for (const id of ['lay', 'count', 'take-files', 'take-folder', 'print-sheets']) byId(id).disabled = false;
  }

  show({ step, done, picture }) {
    byId('work-step').textContent = step;
    byId('work-done').value = done;
    if (picture) byId('work-picture').innerHTML = picture;
  }

  async asked(question) {
    const answer = await this.engine.ask(question);
    if (answer.failed) throw new Error(answer.failed.join(' \u2022 '));
    return answer;
  }

  async whole(boards) {
    const answer = await this.asked({ ask: 'whole', boards, effort: byId('effort').value });
    this.laid = { text: this.text, boards, files: answer.files, divided: answer.divided };
    byId('totals-shown').innerHTML = answer.totals;
    byId('boards-shown').innerHTML = answer.boards ?? '';
    const said = [...answer.problems, ...answer.notes];
    byId('whole-said').hidden = said.length === 0;
    byId('whole-said').firstElementChild.replaceChildren(...list(said));
    this.compare(this.job());
    const laid = answer.files.filter((file) => file.name.endsWith('.dxf')).length;
    this.tell(`${answer.made} fittings counted${boards ? `, ${laid} ${laid === 1 ? 'board' : 'boards'}` : ''}` +
      (answer.left_out > 0 ? `; ${answer.left_out} cannot be made yet` : ''), answer.problems.length > 0);
    return answer;
  }

  // Whether what is shown is still of the job.
  compare(job) {
    byId('whole-old').hidden = this.laid === null || this.laid.text === JSON.stringify(filesOf(job));
  }

  // A fitting is cut as the boards are planned, if they are of this job.
  planned(row) {
    const division = this.laid?.text === this.text && this.laid.divided[this.open.rows[row].cells.tag];
    return division ? { division } : {};
  }

  // Every file of every fitting that can be made, in folders as the program makes them, boards and totals, with the job itself.
  // None leaves that does not pass its check.
  async files() {
    const files = this.given.map(({ name, text }) => [name, text]);
    const faults = [];
    let left = 0, checked = 0;
    const rows = this.open.rows.length;
    const boards = this.open.stock > 0;
    if (this.open.rows.some(({ can }) => can) && (this.laid?.text !== this.text || this.laid.boards !== boards)) await this.whole(boards);
    for (let row = 0; row < rows; row++) {
      this.show({ step: `cutting and checking fitting ${row + 1} of ${rows}`, done: row / rows });
      const answer = await this.engine.ask({ ask: 'files', fitting: row, solids: byId('with-solids').checked, ...this.planned(row) });
      if (answer.failed) {
        left++;
        continue;
      }
      checked += answer.checks;
      faults.push(...answer.faults);
      for (const { name, text, base64 } of answer.files) files.push([`${answer.folder}/${name}`, text ?? fromBase64(base64)]);
    }
    if (faults.length > 0) throw new Error(`Nothing is handed over: ${faults.join(' \u2022 ')}`);
    if (left < rows) for (const { name, text, base64 } of this.laid.files) files.push([name, text ?? fromBase64(base64)]);
    return { files, said: `${files.length} files handed over, ${checked} checks passed` + (left > 0 ? `; ${left} fittings cannot be made yet` : ''), left };
  }

  async takeFiles() {
    const { files, said, left } = await this.files();
    hand(this.open.name.replace(/\.[^.]*$/, '') + '-files.zip', zipped(files), 'application/zip');
    this.tell(said, left > 0);
  }

  async takeFolder(folder) {
    const { files, said, left } = await this.files();
    await writeInto(folder, files, (done) => this.show({ step: 'writing the files', done }));
    this.tell(`${said}, in the folder ${folder.name}`, left > 0);
  }

  async print() {
    const sheets = [];
    const rows = this.open.rows.length;
    for (let row = 0; row < rows; row++) {
      this.show({ step: `drawing sheet ${row + 1} of ${rows}`, done: row / rows });
      const answer = await this.engine.ask({ ask: 'sheet', fitting: row, ...this.planned(row) });
      if (!answer.failed) sheets.push(answer.html);
    }
    if (sheets.length === 0) throw new Error('There is no fitting that can be made yet, so there is no sheet.');
    byId('sheets').innerHTML = sheets.join('\n');
    this.tell(`${sheets.length} ${sheets.length === 1 ? 'sheet' : 'sheets'} for the printer`);
    window.print();
  }
}
