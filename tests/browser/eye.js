// Looks at a page as it stands, and once more with every fold open; tells what is wrong with it.
// Arguments: what the checker is to read, whether widths are measured, and whom to tell.
const [what, measured, tell] = arguments;
const root = document.documentElement;
const faults = [];
const short = (element) => element.outerHTML.slice(0, 160);

function measure(when) {
  if (root.scrollWidth <= root.clientWidth) return;
  const past = [...document.querySelectorAll("body *")].filter(
    (it) => it.getBoundingClientRect().right > root.clientWidth + 1,
  );
  faults.push(`${when}: ${root.scrollWidth} px in ${root.clientWidth} px: ${past.slice(0, 4).map(short).join(" | ")}`);
}

if (measured) measure("wider than the screen");
const folds = [...document.querySelectorAll("details:not([open])")];
for (const fold of folds) fold.open = true;
if (measured) measure("wider than the screen with its folds open");

axe
  .run(document, { runOnly: what, resultTypes: ["violations"], preload: false })
  .then((found) => {
    for (const rule of found.violations)
      for (const node of rule.nodes.slice(0, 4))
        faults.push(`${rule.id} (${rule.help}): ${node.html.slice(0, 200)}: ${node.failureSummary}`);
    if (found.passes.length === 0) faults.push("the checker read nothing");
  })
  .catch((error) => faults.push(`the checker broke: ${error}`))
  .finally(() => {
    for (const fold of folds) fold.open = false;
    tell(faults);
  });
