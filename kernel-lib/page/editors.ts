import { javascript } from "@codemirror/lang-javascript";
import { markdown } from "@codemirror/lang-markdown";
import type { IYText } from "@jupyter/ydoc";
import type { IEditorServices } from "@jupyterlab/codeeditor";
import {
  CodeMirrorEditorFactory,
  CodeMirrorMimeTypeService,
  EditorExtensionRegistry,
  EditorLanguageRegistry,
  EditorThemeRegistry,
  ybinding,
} from "@jupyterlab/codemirror";
import type { Help } from "./help.js";

export interface Editors extends IEditorServices {
  readonly languages: EditorLanguageRegistry;
}

/** The editors of the cells: Jupyter's own, with the two languages of our notebooks and the kernel's help at the cursor. */
export function cellEditors(help: Help): Editors {
  const languages = new EditorLanguageRegistry();
  const typescript = () => javascript({ typescript: true });
  const mimes = ["text/typescript", "application/typescript", "text/x-typescript", "text/javascript"];
  languages.addLanguage({
    name: "TypeScript",
    alias: ["ts", "typescript", "javascript"],
    mime: mimes,
    extensions: ["ts"],
    load: async () => typescript(),
  });
  const marked = ["text/x-ipythongfm", "text/x-markdown", "text/markdown"];
  languages.addLanguage({ name: "Markdown", mime: marked, extensions: ["md"], load: async () => markdown() });
  const extensions = new EditorExtensionRegistry();
  for (const factory of EditorExtensionRegistry.getDefaultExtensions({ themes: new EditorThemeRegistry() })) {
    extensions.addExtension(factory);
  }
  extensions.addExtension({
    name: "shared-model-binding",
    factory: ({ model }) => {
      const { ysource } = model.sharedModel as IYText;
      return EditorExtensionRegistry.createImmutableExtension(ybinding({ ytext: ysource }));
    },
  });
  extensions.addExtension({
    name: "kernel-help",
    factory: ({ model }) =>
      model.mimeType.includes("typescript") || model.mimeType.includes("text/plain")
        ? EditorExtensionRegistry.createImmutableExtension(help.extension())
        : null,
  });
  return {
    languages,
    factoryService: new CodeMirrorEditorFactory({ extensions, languages }),
    mimeTypeService: new CodeMirrorMimeTypeService(languages),
  };
}
