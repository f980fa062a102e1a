// Tool room: what must be corrected, and do the benches tell the truth? Work and results as they come, then each bench.
import { css } from 'lit';
import { customElement } from 'lit/decorators.js';
import { html } from '../language/html.ts';
import { say } from '../../shared/language/index.ts';
import type { ToolRoomView } from '../../shared/tool-room.ts';
import { markLook } from '../drawing/standing-mark.ts';
import { benchSigns } from '../feed-signs.ts';
import { look, tables } from '../look.ts';
import { PageData, type Loaded } from '../page-data.ts';
import { insteadOf, Page } from '../page.ts';
import { subjectLook } from '../subject-look.ts';
import { achievedLook, achievedTable } from './achieved-table.ts';
import './bench-section.ts';
import { resultsTable, workList, workLook } from './work-and-results.ts';

const ASK_AGAIN_LEAST_MS = 3000;
/** What a person put on record elsewhere gives no sign in the feed. */
const ASK_AGAIN_MOST_MS = 60_000;

@customElement('tool-room-page')
export class ToolRoomPage extends Page {
  static override styles = [
    look,
    tables,
    markLook,
    subjectLook,
    workLook,
    achievedLook,
    css`
      bench-section {
        margin-bottom: 1.75rem;
      }
    `,
  ];

  readonly #room = new PageData<ToolRoomView>(this, () => this.api.toolRoom());
  #seen = '';

  override willUpdate(): void {
    this.#room.want('all');
    const { picture } = this;
    if (picture === undefined) return;
    const holds = [...picture.holds.values()].map(({ holdId, state }) => `${holdId} ${state}`);
    const signs = [benchSigns(picture), Math.floor(picture.now / ASK_AGAIN_MOST_MS), ...holds].join(' ');
    if (signs === this.#seen || !this.#room.mayAskAgain(ASK_AGAIN_LEAST_MS)) return;
    this.#seen = signs;
    void this.#room.again();
  }

  /** Without the picture of the plant its zone is not known, and so no time can be told. */
  get #told(): Loaded<ToolRoomView> {
    return this.picture === undefined ? { kind: 'loading' } : this.#room.state;
  }

  override render() {
    return html`<h1>Tool room</h1>
      <p class="question">What must be corrected, and do the benches tell the truth?</p>
      ${insteadOf(this.#told, { what: say`the tool room`, absent: html`` }) ?? html`${this.oldWords(this.#room.state)}${this.#room.value === undefined ? '' : this.#body(this.#room.value)}`}`;
  }

  #body({ work, results, benches, achieved }: ToolRoomView) {
    return html`<div class="columns">
        <section aria-labelledby="work">
          <h2 id="work">Work, most pressing first</h2>
          ${workList(work, this.clock)}
        </section>
        <section aria-labelledby="results">
          <h2 id="results">Results as they came</h2>
          ${resultsTable(results, this.clock)}
        </section>
      </div>
      ${benches.length === 0 ? html`<p class="soft">No bench has sent anything yet.</p>` : ''}
      <div @counterpoise-doubt-lifted=${() => void this.#room.again()}>
        ${benches.map(
          (bench) =>
            html`<bench-section
              .bench=${bench}
              .clock=${this.clock}
              .api=${this.api}
              .person=${this.person}
            ></bench-section>`,
        )}
      </div>
      <section aria-labelledby="achieved">
        <h2 id="achieved">Do corrections do what was predicted?</h2>
        ${achievedTable(achieved)}
      </section>`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'tool-room-page': ToolRoomPage;
  }
}
