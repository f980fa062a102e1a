// What was asked cannot be done as it was asked: said in a line, with the exit code of wrong use.
export class WrongUse extends Error {}
