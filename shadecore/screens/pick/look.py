"""How the pick fits one screen: what the common look leaves open."""

from typing import Final

STYLE: Final = """
<style>
@media (min-width: 641px) {
  [data-testid="stMainBlockContainer"] {padding-top: 4.2rem;}
}
[data-testid="stMain"] h1 {font-size: 1.5rem; padding: 0 1rem .3rem 0;
  white-space: nowrap;}
.sc-pick {display: flex; flex-wrap: wrap; gap: .4rem 1rem; align-items: center;}
.sc-pair {display: flex; flex: 0 0 11rem; height: 4.8rem;}
.sc-pair i {flex: 1; border: 1px solid #8a8a8a;}
.sc-pick .sc-count {flex: 0 0 auto; min-width: 5.5rem; text-align: center;}
.sc-pick .sc-count b {font-size: 3.6rem; line-height: 1;}
.sc-pick .sc-count span {display: block; line-height: 1.2;}
.sc-said {flex: 1 1 13rem; line-height: 1.35;}
.sc-said strong {font-size: 1.2rem;}
.sc-said > span {display: block;}
.sc-warned {flex: 1 1 100%; margin: 0; padding: .3rem .6rem; line-height: 1.35;
  border: 1px solid currentColor; border-left-width: 6px;}
.sc-films {table-layout: fixed;}
.sc-films th, .sc-films td {padding: .1rem .08rem; vertical-align: middle;
  text-align: center; line-height: 1.2;}
.sc-films th[scope=row], .sc-films th:first-child {width: 24%; text-align: left;
  padding-right: .4rem;}
.sc-films th b {font-weight: 600; display: block; overflow-wrap: anywhere;}
.sc-films tr.best th b::before {content: "\\25B6\\00A0"; font-size: .7em;}
.sc-films i {display: block; height: 1.9rem; border: 1px solid #8a8a8a;
  position: relative;}
.sc-films .hides i {border: 3px double currentColor;}
.sc-films s {position: absolute; right: 2px; bottom: -2px; text-decoration: none;
  color: #fff; text-shadow: 0 0 3px #000, 0 0 3px #000;}
.sc-films .end {width: 8%; text-align: right; padding-left: .4rem;}
.sc-films td.count {font-size: 1.25rem; font-weight: 600;}
.st-key-pick [data-testid="stSelectbox"] [role="group"] {height: 46px;}
.st-key-pick .sc-small {margin: 0;}
.st-key-pick_shelf > :first-child {flex: 0 1 auto; min-width: 0;}
.st-key-pick_shelf > :not(:first-child) {flex: 0 0 auto;}
.sc-unit {display: none; font-weight: 400;}
.sc-unseen {position: absolute; width: 1px; height: 1px; overflow: hidden;
  clip-path: inset(50%); white-space: nowrap;}
.sc-films td {position: relative;}
@media (max-width: 640px) {
  [data-testid="stMain"] h1 {position: absolute; width: 1px; height: 1px;
    overflow: hidden; clip-path: inset(50%);}
  [data-testid="stElementContainer"]:has(h1) {position: absolute;}
  .sc-pair {flex: 0 0 4.6rem; height: 3.8rem;}
  .sc-pick {gap: .3rem .6rem;}
  .sc-pick .sc-count {min-width: 4rem;}
  .sc-pick .sc-count b {font-size: 2.8rem;}
  .sc-pick .sc-count span {font-size: .8rem;}
  .sc-said {flex: 1 1 11rem; font-size: .8rem; line-height: 1.2;}
  .st-key-pick .sc-said .sc-small {font-size: .75rem;}
  .sc-said strong {font-size: 1rem;}
  .sc-films {font-size: .8rem;}
  .sc-films small {font-size: .75rem; line-height: 1.15;}
  .sc-films th b {line-height: 1.1;}
  .sc-films th[scope=row], .sc-films th:first-child {width: 25%;}
  .sc-films i {height: 1.55rem;}
  .sc-films th, .sc-films td {line-height: 1.1;}
  .st-key-pick p.sc-small {font-size: .75rem; line-height: 1.1;}
  .st-key-pick {gap: .35rem;}
  .st-key-pick .sc-wide {display: none;}
  .sc-films th:nth-child(2) {font-size: .65rem; font-weight: 400;}
  .sc-films .end {width: 20%; padding-left: .2rem;}
  .sc-films td.count, .sc-films th.count {width: 10%; white-space: nowrap;}
  .sc-films td.count {font-size: 1rem;}
  .sc-unit {display: block;}
  .st-key-pick_settings {flex-wrap: nowrap; overflow-x: auto;}
  .st-key-pick_settings > * {flex: 0 0 auto;}
}
</style>
"""
