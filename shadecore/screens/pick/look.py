"""How the pick fits one screen: what the common look leaves open."""

from typing import Final

STYLE: Final = """
<style>
@media (min-width: 641px) {
  [data-testid="stMainBlockContainer"] {padding-top: 4.2rem;}
  .sc-narrow {display: none;}
}
[data-testid="stMain"] h1 {font-size: 1.5rem; padding: 0 1rem .3rem 0;
  white-space: nowrap;}
/* Colour, kind, angles and what is kept stand in one line. */
.st-key-pick_ask > .st-key-colour {flex: 1 1 8rem; max-width: 20rem; width: auto;}
.st-key-pick_ask > .st-key-kind {flex: 0 0 auto;}
[data-testid="stLayoutWrapper"]:has(> .st-key-pick_bar) {flex: 1 1 21rem;
  width: auto; min-width: 0;}
.st-key-pick_bar {min-height: 46px; flex-wrap: nowrap;}
.st-key-pick_bar:has([data-testid="stAlert"], [data-testid="stProgress"]) {
  flex-wrap: wrap;}
.st-key-pick_bar [data-testid="stLayoutWrapper"]:has(> .st-key-pick_kept_as) {
  flex: 1 1 0; min-width: 0;}
[data-testid="stLayoutWrapper"]:has(> .st-key-pick_angles:empty) {display: none;}
.st-key-pick_bar .st-key-kept_bar {flex-wrap: nowrap; gap: .5rem;}
.st-key-pick_bar .st-key-kept_bar > :first-child {flex: 0 1 auto; min-width: 0;}
.st-key-pick_bar .st-key-kept_bar > :not(:first-child) {flex: 0 0 auto;}
.st-key-pick_bar .st-key-kept_bar p {line-height: 1.2; overflow-wrap: anywhere;}
.st-key-pick_ask [data-testid="stWidgetLabel"] {min-height: 1.4rem; height: 1.4rem;}
.st-key-pick_ask [data-testid="stWidgetLabel"] button {margin: -11px 0;}
/* The chips and what can be done to the shelf fill the same lines. */
.st-key-pick_shelf [data-testid="stButtonGroup"],
.st-key-pick_shelf [data-testid="stElementContainer"]:has(
  > [data-testid="stButtonGroup"]),
.st-key-pick_shelf [data-testid="stButtonGroup"] > div:not(:has(> label)) {
  display: contents;}
.sc-pick {display: flex; flex-wrap: wrap; gap: .4rem 1rem; align-items: center;}
.sc-pair {display: flex; flex: 0 0 11rem; height: 4.8rem;}
.sc-pair i {flex: 1; border: 1px solid #8a8a8a;}
.sc-pick .sc-count {flex: 0 0 auto; min-width: 5.5rem; text-align: center;}
.sc-pick .sc-count b {font-size: 3.6rem; line-height: 1;}
.sc-pick .sc-count span {display: block; line-height: 1.2;}
.sc-said {flex: 1 1 13rem; line-height: 1.35;}
.sc-said strong {font-size: 1.2rem;}
.sc-said > span {display: block;}
.sc-warned {margin: 0; padding: .2rem .6rem; line-height: 1.35;
  border: 1px solid currentColor; border-left-width: 6px;}
.sc-warned + .sc-warned {border-top: 0;}
.sc-counts {margin: .3rem 0 0; line-height: 1.35;}
.sc-films {table-layout: fixed;}
.sc-films th, .sc-films td {padding: .1rem .08rem; vertical-align: middle;
  text-align: center; line-height: 1.2;}
.sc-films th[scope=row], .sc-films th:first-child {width: 31%; text-align: left;
  padding-right: .4rem;}
.sc-films th b {font-weight: 600; margin-right: .5rem;}
.sc-films th small {display: inline;}
.sc-films tr.best th b::before {content: "\\25B6\\00A0"; font-size: .7em;}
.sc-films i {display: block; height: 1.7rem; border: 1px solid #8a8a8a;
  position: relative;}
.sc-films .hides i {border: 3px double currentColor;}
.sc-films s {position: absolute; right: 2px; bottom: -2px; text-decoration: none;
  color: #fff; text-shadow: 0 0 3px #000, 0 0 3px #000;}
.sc-films .end {width: 8%; text-align: right; padding-left: .4rem;}
.sc-films td.count {font-size: 1.25rem; font-weight: 600;}
.st-key-pick [data-testid="stSelectbox"] [role="group"] {height: 46px;}
.st-key-pick .sc-small {margin: 0;}
.sc-unit {display: none; font-weight: 400;}
.sc-unseen {position: absolute; width: 1px; height: 1px; overflow: hidden;
  clip-path: inset(50%); white-space: nowrap;}
.sc-films td {position: relative;}
@media (max-width: 640px) {
  [data-testid="stMainBlockContainer"] {padding-top: .4rem;}
  [data-testid="stMain"] h1 {position: absolute; width: 1px; height: 1px;
    overflow: hidden; clip-path: inset(50%);}
  [data-testid="stElementContainer"]:has(h1) {position: absolute;}
  .st-key-pick_ask > .st-key-colour {max-width: none;}
  [data-testid="stLayoutWrapper"]:has(> .st-key-pick_bar) {flex-basis: 100%;}
  .st-key-pick_bar {min-height: 44px;}
  .st-key-pick_bar p {font-size: .875rem;}
  .st-key-pick_bar button {padding: 0 .5rem;}
  .st-key-pick {gap: .3rem;}
  .st-key-pick_shelf {gap: .25rem;}
  .st-key-pick_shelf button {padding: 0 .5rem;}
  .st-key-pick_shelf button p {font-size: .8rem;}
  /* More chips than two lines hold: two and a half of them, which roll. */
  .st-key-pick_shelf [data-testid="stButtonGroup"]:has(button:nth-of-type(9)) {
    display: flex; flex-wrap: wrap; gap: .25rem; max-height: 118px;
    overflow-y: auto;}
  .sc-pair {flex: 0 0 4.6rem; height: 3.8rem;}
  .sc-pick {gap: .3rem .6rem;}
  .sc-pick .sc-count {min-width: 4rem;}
  .sc-pick .sc-count b {font-size: 2.8rem;}
  .sc-pick .sc-count span {font-size: .8rem;}
  .sc-said {flex: 1 1 11rem; font-size: .8rem; line-height: 1.2;}
  .st-key-pick .sc-said .sc-small {font-size: .75rem;}
  .sc-said strong {font-size: 1rem;}
  details.sc-warned {padding: 0; font-size: .8rem; line-height: 1.25;}
  details.sc-warned summary {min-height: 44px; padding: .25rem .4rem;
    font-weight: 600; align-content: center;}
  details.sc-warned .sc-warned {border: 0; border-top: 1px solid #8a8a8a;}
  .sc-counts {font-size: .8rem; line-height: 1.25;}
  .sc-films {font-size: .75rem;}
  .sc-films small {font-size: .75rem; line-height: 1.1;}
  .sc-films th b {line-height: 1.1; display: block; margin: 0;}
  .sc-films th small {display: block;}
  .sc-films th[scope=row], .sc-films th:first-child {width: 29%;
    padding-right: .2rem; overflow-wrap: anywhere;}
  .sc-films i {height: 1.5rem;}
  .sc-films th, .sc-films td {line-height: 1.1; padding: .06rem .04rem;}
  .st-key-pick p.sc-small {font-size: .75rem; line-height: 1.1;}
  .st-key-pick .sc-wide {display: none;}
  .sc-films th:nth-child(2) {font-size: .65rem; font-weight: 400;}
  .sc-films .end {width: 18%; padding-left: .1rem;}
  .sc-films td.count, .sc-films th.count {width: 11%; white-space: nowrap;}
  .sc-films td.count {font-size: 1rem;}
  .sc-unit {display: block;}
  .st-key-pick_settings {gap: .25rem;}
  .st-key-pick_settings button {padding: 0 .5rem;}
  .st-key-pick_settings button p {font-size: .8rem;}
}
</style>
"""
