import { Publisher, Reply, Router, type Socket } from "zeromq";
import { address, type Connection } from "./connection-file.js";
import { encode, type Message } from "./wire.js";

/** The five sockets of a kernel, bound where the connection file says and nowhere else. */
export class KernelSockets {
  readonly shell = new Router();
  readonly control = new Router();
  private readonly iopub = new Publisher();
  private readonly stdin = new Router();
  private readonly heartbeat = new Reply();

  constructor(private readonly connection: Connection) {
    for (const socket of this.all()) socket.linger = 1000;
    // Without a limit and without waiting, a loop that prints ten thousand times in one tick loses nothing; by default
    // the 513th message of a tick is refused, and with it the `idle` that the front end waits for.
    for (const socket of [this.shell, this.control, this.iopub]) {
      socket.sendTimeout = 0;
      socket.sendHighWaterMark = 0;
    }
  }

  async bind(): Promise<void> {
    const { connection } = this;
    await Promise.all([
      this.iopub.bind(address(connection, "iopub_port")),
      this.shell.bind(address(connection, "shell_port")),
      this.control.bind(address(connection, "control_port")),
      this.stdin.bind(address(connection, "stdin_port")),
      this.heartbeat.bind(address(connection, "hb_port")),
    ]);
    void this.echo();
  }

  /** Answers the peer that asked, on the socket it asked on. */
  reply(socket: Router, message: Message): void {
    void socket.send(encode(this.connection.key, message));
  }

  /** Tells every front end. */
  publish(message: Message): void {
    void this.iopub.send(encode(this.connection.key, message));
  }

  close(): void {
    for (const socket of this.all()) socket.close();
  }

  private async echo(): Promise<void> {
    for await (const frames of this.heartbeat) await this.heartbeat.send(frames);
  }

  private all(): Socket[] {
    return [this.shell, this.control, this.iopub, this.stdin, this.heartbeat];
  }
}
