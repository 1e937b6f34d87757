import { afterEach, expect, it } from "vitest";
import { Publisher, Router } from "zeromq";
import { KernelClient, type RequestChannel } from "../../kernel-lib/src/kernel/client.js";
import { address, writeConnection } from "../../kernel-lib/src/kernel/connection-file.js";
import { decode, encode, header, type Message } from "../../kernel-lib/src/kernel/wire.js";
import { scratch } from "./workplace.js";

const open: { close(): void }[] = [];
afterEach(() => {
  for (const end of open.splice(0)) end.close();
});

it("passes a front end's own message on, and a kernel can ask back over stdin whoever asked it on shell", async () => {
  const { connection } = await writeConnection(scratch());
  const [shell, stdin, iopub] = [new Router(), new Router({ mandatory: true }), new Publisher()];
  await shell.bind(address(connection, "shell_port"));
  await stdin.bind(address(connection, "stdin_port"));
  await iopub.bind(address(connection, "iopub_port"));
  let heard: (value: readonly [RequestChannel, Message]) => void = () => undefined;
  const next = () => new Promise<readonly [RequestChannel, Message]>((resolve) => (heard = resolve));
  const client = new KernelClient(
    connection,
    () => undefined,
    "a page",
    (...back) => heard(back),
  );
  open.push(client, shell, stdin, iopub);

  const asked = {
    identities: [],
    header: header("execute_request", "tab"),
    parent: {},
    metadata: { cellId: "c" },
    content: { code: "1" },
    buffers: [Buffer.from([1, 2, 3])],
  };
  client.pass("shell", asked);
  const { identities, ...got } = decode(connection.key, (await shell.receive()) as Buffer[]);
  expect({ ...got, identities: [] }).toEqual(asked);

  const answer = (type: string) =>
    encode(connection.key, {
      identities,
      header: header(type, "kernel"),
      parent: got.header,
      metadata: {},
      content: {},
    });
  const question = next();
  // a router can only reach a peer that has connected, which may need a moment
  await expect
    .poll(
      () =>
        stdin.send(answer("input_request")).then(
          () => "sent",
          ({ code }: NodeJS.ErrnoException) => code,
        ),
      { timeout: 20_000 },
    )
    .toBe("sent");
  expect((await question)[0]).toBe("stdin");
  const reply = next();
  await shell.send(answer("execute_reply"));
  const [channel, message] = await reply;
  expect([channel, message.header.msg_type, message.parent.msg_id]).toEqual([
    "shell",
    "execute_reply",
    asked.header.msg_id,
  ]);
});
