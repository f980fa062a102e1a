// Why a journal refuses: it is closed, or somebody else appends to it.

/** It takes nothing more until it is opened again; `cause` says why where something failed. */
export class JournalClosed extends Error {
  override readonly name = 'JournalClosed';
}

/** Another process, or another part of this one, appends to the same journal. */
export class JournalInUse extends Error {
  override readonly name = 'JournalInUse';
}
