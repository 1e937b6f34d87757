import { expect, it } from "vitest";
import type { Framed } from "../../../kernel-lib/src/kernel/live/framing.js";
import { KernelPage } from "../../../kernel-lib/src/kernel/live/kernel-page.js";
import { header } from "../../../kernel-lib/src/kernel/wire.js";

const framed = (text: string): Framed => ({
  channel: "iopub",
  message: { identities: [], header: header("stream", "s"), parent: {}, metadata: {}, content: { text } },
});

/** the socket of a tab: it takes so many messages, and is gone then without a word */
function socketFor(most: number) {
  const got: unknown[] = [];
  const send = ({ message }: Framed): boolean => got.length < most && got.push(message.content.text) > 0;
  return { got, send, close: () => undefined };
}

it("keeps for a tab what its socket no longer takes, and gives it to the next one in order, once", () => {
  const page = new KernelPage();
  const first = socketFor(2);
  page.come(first);
  for (const text of ["a", "b", "c"]) page.send(framed(text));
  expect([first.got, page.isHere]).toEqual([["a", "b"], false]);
  page.send(framed("d"));
  const second = socketFor(1);
  page.come(second);
  expect([second.got, page.isHere]).toEqual([["c"], false]);
  const third = socketFor(9);
  page.come(third);
  page.send(framed("e"));
  // the word that the first has gone comes late, and is about none that is here
  page.leave(first);
  expect([third.got, page.isHere]).toEqual([["d", "e"], true]);
});
