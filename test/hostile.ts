/** Texts that a sheet, a notebook or an archive may hold and that must do nothing anywhere but be read. */
export const hostileTexts: { readonly [what: string]: string } = {
  "a picture with a handler": `<img src=x onerror="window.hurt=1">`,
  "the end of a script": `</script><script>window.hurt=1</script>`,
  "the end of a style": `</style><svg onload='window.hurt=1'>`,
  "the end of a comment": `--><script>window.hurt=1</script><!--`,
  "the end of character data": `]]><x:script xmlns:x="http://www.w3.org/1999/xhtml">window.hurt=1</x:script>`,
  "a link that runs": `<a href="javascript:window.hurt=1">here</a>`,
  "the address of a script": `javascript:window.hurt=1//`,
  "quotation marks": `" onmouseover="window.hurt=1" x='\``,
  "coded signs": `&lt;script&gt;&#60;b&#62;&quot;`,
  "marks that turn the direction": `\u202egnp.tixe\u202c \u2066x\u2069`,
  "signs a terminal obeys": `\u001b[2J\u001b[31m\u001b]0;hurt\u0007\u009b1m\b\b\u007f`,
  "a return that writes over": `right\rwrong`,
  "signs no picture may hold": `\u0000\u0001\ufffe\uffff\ud800`,
  "a template": "%{x}%{customdata} \u0024{process.exit(1)} {{7*7}}",
  "names every object has": `__proto__ constructor toString`,
};

/** all of them in one */
export const hostile = Object.values(hostileTexts).join(" ");

/** signs that must reach neither a terminal nor a page: control signs but tab and ends of lines, marks of direction */
// biome-ignore lint/suspicious/noControlCharactersInRegex: these are what is looked for
export const unseenSigns = /[\u0000-\u0008\u000b-\u001f\u007f-\u009f\u202a-\u202e\u2066-\u2069\ufffe\uffff]/;
