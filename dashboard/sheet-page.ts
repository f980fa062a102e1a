// A page that is meant for paper: the time on it is that of the printing, and each sheet has a head as long as the page is on screen.
import { SheetHead } from './sheet-head.ts';
import { Page } from './page.ts';
import { onPrinting } from './shell/printing.ts';

export abstract class SheetPage extends Page {
  protected readonly head = new SheetHead();

  constructor() {
    super();
    onPrinting(() => {
      if (!this.isConnected) return;
      this.requestUpdate();
      this.performUpdate();
    });
  }

  override connectedCallback(): void {
    super.connectedCallback();
    this.head.attach();
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    this.head.detach();
  }
}
