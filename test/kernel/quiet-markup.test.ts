import { describe, expect, it } from "vitest";
import { isQuietMarkup, isQuietPage } from "../../kernel-lib/src/kernel/quiet-markup.js";
import { display, type MimeBundle } from "../../kernel-lib/src/quantity/display-member.js";
import { everyClass } from "../display/every-class.js";
import { hostileTexts } from "../hostile.js";

/** an output without the look and the script that a page carries once */
const bodyOf = (value: object): string => {
  const bundle = (Reflect.get(value, display) as () => MimeBundle).call(value);
  return String(bundle["text/html"]).replace(/<style>[^<]*<\/style>|<script>[\s\S]*?<\/script>/g, "");
};

describe("markup in which nothing runs", () => {
  it.each(Object.entries(everyClass))("is that of %s", (_, make) => {
    expect(isQuietMarkup(bodyOf(make()))).toBe(true);
  });

  it.each([
    "<script>x</script>",
    "<scr<script>ipt>",
    "<img src=x onerror=alert(1)>",
    '<img src="x" onerror="alert(1)">',
    '<img src="https://elsewhere.example/pixel.png">',
    '<img src="data:image/svg+xml;base64,AAAA" src="x">',
    '<p ONCLICK="x">a</p>',
    '<a href="javascript:alert(1)">a</a>',
    '<a href="&#106;avascript:alert(1)">a</a>',
    '<a href="https://elsewhere.example">a</a>',
    '<a download="a.html" href="data:text/html;base64,PHNjcmlwdD4xPC9zY3JpcHQ+">a</a>',
    // a quiet page, under a name that a system would start
    '<a download="a.hta" href="data:text/html;base64,PHA+YTwvcD4=">a</a>',
    '<a download="a.html.bat" href="data:text/html;base64,PHA+YTwvcD4=">a</a>',
    '<a download href="data:text/html;base64,PHA+YTwvcD4=">a</a>',
    '<a download="a.html" href="data:text/html,<p>a</p>">a</a>',
    '<a download="a.html" href="data:text/html;charset=utf-7;base64,PHA+YTwvcD4=">a</a>',
    // no text in UTF-8: a browser would guess
    '<a download="a.html" href="data:text/html;base64,/v8=">a</a>',
    // a picture that runs nothing where it is shown, and would where it is saved and opened
    '<img src="data:image/svg+xml;base64,PHN2Zz48c2NyaXB0PjE8L3NjcmlwdD48L3N2Zz4=">',
    '<iframe srcdoc="x"></iframe>',
    '<iframe sandbox="allow-scripts" srcdoc="x"></iframe>',
    '<iframe sandbox="" src="x"></iframe>',
    '<p style="background:url(https://elsewhere.example)">a</p>',
    '<p style="background:u\\72l(x)">a</p>',
    "<style>p{color:red}</style>",
    "<!-- <script>1</script> -->",
    "<![CDATA[<script>1</script>]]>",
    '<form action="x"><button>a</button></form>',
    '<meta http-equiv="refresh" content="0;url=https://elsewhere.example">',
    '<base href="https://elsewhere.example">',
    "<object></object>",
    "<math><mtext></mtext></math>",
    "<svg onload='x'></svg>",
    "<svg/onload=alert(1)>",
    '<img id="dialbook-plotly" src="data:image/png;base64,AA==">',
    '<p title="<script>1</script>">a</p>',
    "a < b",
    "<p",
  ])("is not %s", (markup) => {
    expect(isQuietMarkup(markup)).toBe(false);
    expect(isQuietMarkup(`<p>before</p>${markup}<p>after</p>`)).toBe(false);
  });

  it("hands on a page in which nothing runs, under the name of a page", () => {
    expect(isQuietMarkup('<a download="a-1.html" href="data:text/html;base64,PHA+YTwvcD4=">a</a>')).toBe(true);
  });

  it.each(Object.entries(hostileTexts).filter(([, text]) => /<(?!\w+ xmlns)/.test(text)))(
    "is not a text with %s",
    (_, text) => expect(isQuietMarkup(`<p>${text}</p>`)).toBe(false),
  );

  it("of a page may hold a look of its own, which fetches nothing", () => {
    expect(isQuietPage("<!doctype html><html><head><style>p>b{color:red}</style></head><body>a</body></html>")).toBe(
      true,
    );
    for (const style of ["@import 'x'", "p{background:url(x)}", "p{background:image-set('x' 1x)}", "p{b:\\75rl(x)}"]) {
      expect(isQuietPage(`<style>${style}</style>`)).toBe(false);
    }
    expect(isQuietPage('<svg><use href="#a"/><rect fill="url(#b)"/></svg>')).toBe(true);
    expect(isQuietPage('<svg><use href="https://elsewhere.example#a"/></svg>')).toBe(false);
    expect(isQuietPage("<svg><script>1</script></svg>")).toBe(false);
    expect(isQuietPage("<svg><foreignObject></foreignObject></svg>")).toBe(false);
    expect(isQuietPage('<svg><animate attributeName="href" to="javascript:1"/></svg>')).toBe(false);
  });
});
