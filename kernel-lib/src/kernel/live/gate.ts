import { randomBytes, timingSafeEqual } from "node:crypto";
import type { IncomingMessage } from "node:http";
import { Refused } from "./refused.js";

/** methods that change nothing */
const reading = new Set(["GET", "HEAD"]);
const mostSessions = 50;

/**
 * Who may come in. A kernel runs whatever it is sent, so only the browser that was given the printed address may speak
 * to it: a token that works once buys a cookie, and what comes from another page or under another name is refused.
 */
export class Gate {
  private readonly tokens = new Set<string>();
  private readonly sessions: string[] = [];

  constructor(readonly port: number) {}

  /** A token that opens the page once. */
  issue(): string {
    const token = randomBytes(24).toString("base64url");
    this.tokens.add(token);
    return token;
  }

  /** @throws Refused `host`, `origin`: the request reached us under a name, or from a page, that is not ours */
  needOurs(request: IncomingMessage, isSocket = false): string {
    const { host = "", origin } = request.headers;
    if (!this.names.includes(host)) {
      throw new Refused(
        421,
        "host",
        `${JSON.stringify(host)}: this server answers only as ${this.names.join(" or ")}; open the address it printed`,
      );
    }
    const needed = isSocket || !reading.has(request.method ?? "");
    if (origin === undefined && !needed) return host;
    if (origin === `http://${host}`) return host;
    throw new Refused(
      403,
      "origin",
      `${origin === undefined ? "a request without its origin" : JSON.stringify(origin)}: only the page of this server may ask for this; open the address it printed`,
    );
  }

  /** The cookie that a token buys; a token works once. @throws Refused `token` */
  admit(token: string): string {
    const known = [...this.tokens].find((issued) => same(issued, token));
    if (known === undefined) {
      throw new Refused(
        403,
        "token",
        "the address was used already, or is not the one printed; press Enter where the page was started for a fresh one",
      );
    }
    this.tokens.delete(known);
    const session = randomBytes(24).toString("base64url");
    this.sessions.push(session);
    if (this.sessions.length > mostSessions) this.sessions.shift();
    return `${this.cookieName}=${session}; Path=/; HttpOnly; SameSite=Strict`;
  }

  /** @throws Refused `no-entry` */
  needAdmitted(request: IncomingMessage): void {
    const given = (request.headers.cookie ?? "")
      .split(/;\s*/)
      .filter((cookie) => cookie.startsWith(`${this.cookieName}=`))
      .map((cookie) => cookie.slice(this.cookieName.length + 1));
    if (given.some((value) => this.sessions.some((session) => same(session, value)))) return;
    throw new Refused(
      403,
      "no-entry",
      "this browser has not been let in; open the address printed where the page was started, or press Enter there for a fresh one",
    );
  }

  private get names(): readonly string[] {
    return [`127.0.0.1:${this.port}`, `localhost:${this.port}`];
  }

  /** cookies know no port, and two projects may be open at once */
  private get cookieName(): string {
    return `dialbook-${this.port}`;
  }
}

function same(a: string, b: string): boolean {
  const [one, other] = [Buffer.from(a), Buffer.from(b)];
  return one.length === other.length && timingSafeEqual(one, other);
}
