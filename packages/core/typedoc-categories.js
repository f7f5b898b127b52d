// Run by typedoc: gives each exported name the heading that it stands beneath in its face as its category, in the face's order.
import { Comment, CommentTag, Converter, ReflectionKind } from 'typedoc';
import { namesByHeading } from './face.js';

/** After typedoc has made its categories. */
const LATE = -1000;

export function load(app) {
  const modules = (project) => project.getChildrenByKind(ReflectionKind.Module);
  app.converter.on(Converter.EVENT_RESOLVE_BEGIN, ({ project }) => {
    for (const module of modules(project))
      for (const [heading, names] of namesByHeading(module.name))
        for (const child of module.children ?? []) {
          if (!names.includes(child.name)) continue;
          child.comment ??= new Comment();
          child.comment.blockTags.push(new CommentTag('@category', [{ kind: 'text', text: heading }]));
        }
  });
  app.converter.on(
    Converter.EVENT_RESOLVE_END,
    ({ project }) => {
      for (const module of modules(project)) {
        const order = [...namesByHeading(module.name).keys()];
        module.categories?.sort((a, b) => order.indexOf(a.title) - order.indexOf(b.title));
      }
    },
    LATE,
  );
}
