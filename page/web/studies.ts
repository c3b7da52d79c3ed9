import type { App } from "./app";

export class Studies {
  constructor(private readonly app: App) {
    void this.app;
  }
}
