import { Publisher, Reply, Router, type Socket } from "zeromq";
import { MeasurementError } from "../measurement-error.js";
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
    await Promise.all([
      this.bindOne(this.iopub, "iopub_port"),
      this.bindOne(this.shell, "shell_port"),
      this.bindOne(this.control, "control_port"),
      this.bindOne(this.stdin, "stdin_port"),
      this.bindOne(this.heartbeat, "hb_port"),
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

  /** @throws MeasurementError `port-taken` */
  private async bindOne(socket: Publisher | Router | Reply, port: Parameters<typeof address>[1]): Promise<void> {
    const where = address(this.connection, port);
    try {
      await socket.bind(where);
    } catch (error) {
      if (!(error instanceof Error) || Reflect.get(error, "code") !== "EADDRINUSE") throw error;
      throw new MeasurementError(
        "port-taken",
        `kernel: the address ${where} is in use by another program; start the kernel once more, fresh ports are picked then`,
      );
    }
  }

  private async echo(): Promise<void> {
    for await (const frames of this.heartbeat) await this.heartbeat.send(frames);
  }

  private all(): Socket[] {
    return [this.shell, this.control, this.iopub, this.stdin, this.heartbeat];
  }
}
