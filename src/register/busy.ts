/** Another program holds the register and does not let go; `host` is the machine it runs on, where that is known. */
export class RegisterBusy extends Error {
  constructor(readonly host: string) {
    super("the register is held by another program");
  }
}
