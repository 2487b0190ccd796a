namespace Leadwright.Documents.Html;

/// <summary>The looks of a page: those of the printed document, for screens and printers.</summary>
internal static class HtmlStyle
{
    public const string Text = """
        :root { --ink: #1f2326; --soft: #565c61; --rule: #b9b3a5; --faint: #dedad0; --board: #f4f2ec; --plate: #2a2e31; --copper: #9c4a12; }
        * { box-sizing: border-box; }
        body { margin: 0 auto; padding: 1.2rem; max-width: 56rem; color: var(--ink); background: #fff; font: 1rem/1.5 "Barlow", "Segoe UI", "Noto Sans", system-ui, sans-serif; }
        .skip { position: absolute; left: -100rem; }
        .skip:focus { left: 1rem; top: 1rem; background: #fff; padding: .6rem 1rem; outline: 3px solid var(--copper); z-index: 1; }
        a { color: #1f4e79; }
        a:focus-visible, .scroll:focus-visible { outline: 3px solid var(--copper); outline-offset: 2px; }
        .logo { float: right; max-height: 4rem; max-width: 14rem; }
        .plate { clear: both; background: var(--plate); color: #fff; border-radius: .5rem; padding: 1.2rem 2rem; box-shadow: inset 0 0 0 .25rem var(--plate), inset 0 0 0 .32rem var(--rule); }
        .plate h1 { margin: 0; font-size: 2rem; line-height: 1.2; }
        .plate p { margin: .3rem 0 0; font-size: 1.15rem; }
        nav ol { list-style: none; padding: 0; columns: 2 18rem; }
        nav li { padding: .2rem 0; break-inside: avoid; }
        section { margin-top: 3rem; }
        h2 { font-size: 1.6rem; line-height: 1.25; margin: 0 0 1rem; padding-bottom: .5rem; border-bottom: .2rem solid var(--copper); }
        nav h2 { font-size: 1.15rem; border: 0; margin: 1.5rem 0 0; padding: 0; }
        h3 { font-size: 1.15rem; margin: 2rem 0 .5rem; }
        .lead { font-size: 1.2rem; }
        .small, figcaption, .unit { color: var(--soft); font-size: .88rem; }
        .scroll { overflow-x: auto; margin: 1rem 0 .4rem; }
        table { border-collapse: collapse; border-bottom: 1px solid var(--ink); font-size: .92rem; min-width: 50%; }
        caption { text-align: left; padding-bottom: .3rem; }
        th { text-align: left; vertical-align: bottom; }
        thead th { border-bottom: 2px solid var(--ink); }
        th, td { padding: .3rem .8rem .3rem 0; }
        tbody th, tbody td { border-bottom: 1px solid var(--faint); vertical-align: top; font-weight: normal; }
        tbody th[scope=rowgroup], .facts th { font-weight: 700; }
        .facts { border-top: 2px solid var(--ink); width: 100%; margin-top: 1rem; }
        .facts th { width: 12rem; }
        .n { text-align: right; font-variant-numeric: tabular-nums; }
        td { overflow-wrap: anywhere; }
        figure { margin: 1.5rem 0; }
        figure svg { display: block; width: 100%; height: auto; }
        figure.narrow svg { max-width: 28rem; }
        .pair { display: grid; grid-template-columns: repeat(auto-fit, minmax(17rem, 1fr)); gap: 1.5rem; align-items: end; }
        .key { display: grid; grid-template-columns: repeat(auto-fit, minmax(11rem, 1fr)); gap: 1rem; }
        .key div { border-top: 3px solid var(--ink); padding-top: .4rem; }
        .key dt { color: var(--soft); font-size: .92rem; }
        .key dd { margin: 0; }
        .value { font-size: 1.9rem; font-weight: 700; }
        .answers div { display: grid; grid-template-columns: minmax(9rem, 14rem) 1fr; gap: 1rem; border-top: 1px solid var(--rule); padding: .5rem 0; }
        .answers dt { font-weight: 700; }
        .answers dd { margin: 0; display: flex; gap: .6rem; }
        .sign-mark { flex: 0 0 1rem; width: 1rem; height: 1rem; margin-top: .25rem; }
        .notice { background: var(--board); border-left: .35rem solid var(--plate); padding: .6rem 1rem; }
        .notice p { margin: .3rem 0; }
        .sign { display: grid; grid-template-columns: repeat(3, 1fr); gap: 0 1.5rem; margin-top: 1.5rem; break-inside: avoid; }
        .sign p:first-child { grid-column: 1 / -1; margin: 0; }
        .sign p { margin: 0; color: var(--soft); font-size: .88rem; }
        .sign span { display: block; height: 3rem; border-bottom: 1px solid var(--ink); color: var(--ink); font-size: 1rem; display: flex; align-items: end; }
        .sign strong { color: var(--ink); font-size: 1rem; }
        .ticks { list-style: none; padding: 0; }
        .ticks .box { display: inline-block; width: 1.1em; height: 1.1em; border: 1px solid var(--ink); margin-right: .6em; text-align: center; line-height: 1.1em; vertical-align: -.15em; }
        .ruled { border-bottom: 1px solid var(--rule); height: 2rem; }
        .form td, .form th { border: 1px solid var(--rule); height: 2.2rem; min-width: 4rem; }
        footer { margin-top: 3rem; border-top: 1px solid var(--rule); color: var(--soft); font-size: .88rem; }
        @media (max-width: 34rem) { .answers div { grid-template-columns: 1fr; gap: .2rem; } .facts th { width: 8rem; } }
        @media print { body { padding: 0; max-width: none; font-size: 10pt; } nav, .skip { display: none; } figure, tr, .key, .answers div { break-inside: avoid; } h2, h3 { break-after: avoid; } .scroll { overflow: visible; } }

        """;
}
