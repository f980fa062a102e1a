// Intake: what arrived that could not be used, late, or not at all? A lane per device, and each rejected message with its reason.
import { nothing, type PropertyValues } from 'lit';
import { customElement, state } from 'lit/decorators.js';
import { html } from '../language/html.ts';
import { say } from '../../shared/language/index.ts';
import type { RejectView } from '../../shared/views.ts';
import { whyNot } from '../api.ts';
import { markLook } from '../drawing/standing-mark.ts';
import { look, presses, tables } from '../look.ts';
import { PageData } from '../page-data.ts';
import { insteadOf, Page } from '../page.ts';
import { whole } from '../wording/figures.ts';
import { moment } from '../wording/instants.ts';
import { deviceLanes } from './device-lanes.ts';
import { intakeLook } from './intake-look.ts';
import { rejectItem } from './reject-item.ts';
import { windowsRoomWords } from './windows-room.ts';

const REJECTS_SHOWN_MAX = 50;
const ASK_AGAIN_LEAST_MS = 3000;

@customElement('intake-page')
export class IntakePage extends Page {
  static override styles = [look, tables, presses, markLook, intakeLook];

  /** What came of reading a message again, by its position. */
  @state() private told: ReadonlyMap<number, string> = new Map();
  readonly #rejects = new PageData<readonly RejectView[]>(this, () => this.api.rejects(this.#which, REJECTS_SHOWN_MAX));
  #openSeen = -1;

  get #which(): 'open' | 'retried' {
    return this.choices['list'] === 'retried' ? 'retried' : 'open';
  }

  override willUpdate(_changed: PropertyValues<this>): void {
    this.#rejects.want(this.#which);
    const open = this.picture?.intake.rejectsOpen ?? -1;
    if (open === this.#openSeen || !this.#rejects.mayAskAgain(ASK_AGAIN_LEAST_MS)) return;
    this.#openSeen = open;
    void this.#rejects.again();
  }

  override render() {
    const { picture } = this;
    return html`<div class="head">
        <h1>Intake</h1>
        <p class="question">What arrived that could not be used, late, or not at all?</p>
      </div>
      ${
        picture === undefined
          ? html`<p class="soft" role="status">Waiting for the picture of the plant …</p>`
          : html`<p class="soft">
                Journal at
                ${whole(picture.intake.journal.position)}${
                  picture.intake.journal.at === undefined
                    ? nothing
                    : html`, last message ${moment(picture.intake.journal.at, this.clock)}`
                }.
                ${windowsRoomWords(picture.intake.windows)}
              </p>
              ${deviceLanes(picture.intake.devices, this.clock, {
                onlyMatter: this.choices['only'] === 'matter',
                choose: (onlyMatter) => this.choose({ only: onlyMatter ? 'matter' : undefined }),
              })}`
      }
      ${this.#rejected()}`;
  }

  #rejected() {
    const open = this.picture?.intake.rejectsOpen ?? 0;
    return html`<section aria-labelledby="rejects">
      <h2 id="rejects">Kept, but not read</h2>
      <div class="choices not-printed" role="group" aria-label="Which messages">
        <button
          aria-pressed=${this.#which === 'open' ? 'true' : 'false'}
          @click=${() => this.choose({ list: undefined })}
        >
          open ${open}
        </button>
        <button
          aria-pressed=${this.#which === 'retried' ? 'true' : 'false'}
          @click=${() => this.choose({ list: 'retried' })}
        >
          read again since
        </button>
      </div>
      ${insteadOf(this.#rejects.state, { what: say`the messages that were not read`, absent: html`` }) ?? html`${this.oldWords(this.#rejects.state)}${this.#list(this.#rejects.value ?? [])}`}
    </section>`;
  }

  #list(rejects: readonly RejectView[]) {
    if (rejects.length === 0) {
      return html`<p class="soft">
        ${this.#which === 'open' ? say`Every message that came could be read.` : say`None was read again yet.`}
      </p>`;
    }
    const mayRetry = this.hasRole(['tool-room', 'maintenance', 'engineer', 'admin']);
    return html`<ul class="rejects">
      ${rejects.map((reject) =>
        rejectItem(reject, this.clock, {
          told: this.told.get(reject.position),
          retry: mayRetry ? () => void this.#retry(reject.position) : undefined,
        }),
      )}
    </ul>`;
  }

  async #retry(position: number): Promise<void> {
    const answer = await this.api.retryReject(position);
    const words = answer.kind === 'answer' ? say`Read again.` : whyNot(answer);
    this.told = new Map(this.told).set(position, words);
    if (answer.kind === 'answer') await this.#rejects.again();
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'intake-page': IntakePage;
  }
}
