"""The script cut down to the kinds of traces in use. That it still draws is seen by the tests in a browser."""

from __future__ import annotations

import re

import pytest
from plotly.offline import get_plotlyjs

from briefgen.charts.interactive.cutting import cut
from briefgen.charts.interactive.figures import TRACES, check, plotly_script

# A bundle as esbuild writes it: two wrappers, modules, an entrance that registers what there is.
BUNDLE = (
    '"use strict";var P=(()=>{var S=(e,t,r)=>()=>{if(r)throw r[0];try{return e&&(t=e(e=0)),t}catch(i){throw r=[i],i}};'
    "var C=(e,t)=>()=>{try{return t||e((t={exports:{}}).exports,t),t.exports}catch(r){throw t=0,r}};"
    'var sc=C((a,b)=>{b.exports={moduleType:"trace",name:"scatter",x:util()}});'
    "var util=C((a,b)=>{b.exports=(init(),space)});"
    "var lone=C((a,b)=>{b.exports=1});function hoisted(){return 2}var space={};"
    "var v,init=S(()=>{v=hoisted()});"
    'var bar=C((a,b)=>{b.exports={moduleType:"trace",name:"bar",y:extra()}});var extra=C((a,b)=>{b.exports=3});'
    "var libbar=C((a,b)=>{b.exports=bar()});"
    'var pie=C((a,b)=>{b.exports={moduleType:"trace",name:"pie",z:only()}});var only=C((a,b)=>{b.exports=4});'
    "var core=C((a,b)=>{b.exports={register(){},s:sc()}});"
    "var last=C((a,b)=>{var c=core();c.register([libbar(),pie()]);b.exports=c});return last();})();/* licence */"
)


def modules(script: str) -> list[str]:
    return re.findall(r"(\w+)=[CS]\(\(", script)


def test_what_the_kinds_and_the_core_call_is_kept_in_its_order() -> None:
    script = cut(BUNDLE, {"bar", "scatter"})
    # `lone` is kept for the function that stands behind it.
    assert modules(script) == ["sc", "util", "lone", "init", "bar", "extra", "libbar", "core", "last"]
    assert "register([libbar()])" in script
    assert "function hoisted()" in script
    assert script.startswith(BUNDLE[:60])
    assert script.endswith("/* licence */")


def test_the_core_draws_its_own_kind_alone() -> None:
    assert "register([])" in cut(BUNDLE, {"scatter"})


@pytest.mark.parametrize(
    "script",
    [
        "",
        "alert(1)",
        BUNDLE.replace(".register([libbar(),pie()])", ""),
        BUNDLE.replace("exports:{}}).exports", "exported:{}}).exported"),
        BUNDLE.replace('name:"bar"', 'name:"column"'),
        BUNDLE.replace('name:"scatter"', 'name:"dots"'),
        BUNDLE.replace("var extra=", "var bar="),
    ],
)
def test_a_bundle_of_another_form_is_left_whole(script: str) -> None:
    assert cut(script, TRACES) == script


def test_plotlys_own_bundle_is_cut_to_a_quarter() -> None:
    whole, (name, script) = get_plotlyjs(), plotly_script()
    kinds = set(re.findall(r'moduleType:"trace",name:"(\w+)"', script))
    assert kinds == set(TRACES)
    assert len(script) < 0.25 * len(whole)
    assert re.fullmatch(r"plotly-[\d.]+\.min\.js", name)
    assert "Licensed under the MIT license" in script


def test_a_figure_of_another_kind_is_refused() -> None:
    check({"data": [{"type": "bar", "x": [1], "y": [2]}, {"x": [1], "y": [2]}]})
    with pytest.raises(ValueError, match="the script draws no pie"):
        check({"data": [{"type": "pie", "values": [1]}]})


def test_the_style_of_maps_of_the_earth_is_left_out() -> None:
    style = (
        '(function(){if(!document.getElementById("a1")){var e=document.createElement("style");e.id="a1",'
        "e.textContent='.maplibregl-map{overflow:hidden}',document.head.appendChild(e)}})()"
    )
    module = "var look=C(()=>{%s});"
    bundle = BUNDLE.replace("var core=", f"{module % style}var core=").replace("s:sc()", "s:sc(),l:look()")
    script = cut(bundle, {"bar", "scatter"})
    assert module % "" in script
    assert "maplibregl" not in script
    assert cut(bundle.replace("maplibregl-map", "own-map"), {"bar"}).count(style[:40]) == 1
    assert "maplibregl" not in plotly_script()
