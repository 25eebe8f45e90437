"""The files of a logbook that begins: settings with comments, a few materials, one purifier, one tank.

The figures of materials are what is written on sacks and in tables for a start; each says so in its `source`.
"""

from __future__ import annotations

from collections.abc import Mapping

from generator.writing.scalars import scalar

_SETTINGS = """\
format: 1
title: {title}
currency: {currency}                 # three letters; all prices are kept in it
timezone: {timezone}
# locale: en-GB               # how numbers and money are written, as in any country; texts are in English, or in German with de
display: {{volume: L, mass: kg, temperature: °C, pressure: bar}}
reference_temperature: 15 °C  # a litre on the site is a litre at this temperature
assumed_temperature: 15 °C    # what a volume without a temperature is taken to have
gallon: none                  # US or imperial, if you write gal
# specification: {{standard: EN 14214, edition: 2012+A1 2014}}   # limits to hold results to
# dose: {{base: 7 g/L, of: KOH, methanol: 22 %}}                 # your own rule, of pure base; the weigh sheet needs it
# labour_rate: 12.00 {currency}/h
# target_cost: 0.90 {currency}/L   # what a litre is to cost, with media; the highest price of an offer goes by it
# collection_rate: 0.30 {currency}/km   # what a kilometre of fetching costs
"""
_MATERIALS = """\
# methanol is toxic and its vapour ignites; alkali burns skin and eyes: goggles, gloves, fresh air, no flame; spent media
# wet with fuel can heat themselves alight: lidded, outside
# what you can buy; purity is what the label says, and counts
materials:
  used-oil: {kind: oil, name: Used cooking oil}   # add a profile or a saponification value with its source
  koh: {kind: catalyst, name: Potassium hydroxide flakes, of: KOH, purity: 90 %, source: to be read off the label}
  methanol: {kind: alcohol, of: methanol, purity: 99.8 %, source: to be read off the label}
  # what a medium takes up is a figure to begin with, until your own beds have told theirs; void is best measured in a bucket
  absorbent:
    kind: medium
    name: Wood chips
    type: absorbent
    void: 0.7
    ledgers:
      - {of: soap, by: holding, capacity: 30 g/kg, confidence: second-hand figure}
  resin:
    kind: medium
    name: Ion exchange resin
    type: resin
    void: 0.38
    ledgers:
      - {of: soap, by: exchange, capacity: 550 g/L, reset_by: regenerate, leaves: 10 %, confidence: one open study}
      - {of: glycerol, by: holding, capacity: 106 g/L, reset_by: rinse, leaves: 10 %, confidence: one open study}
    source: Wall, Van Gerpen and Thompson, Trans. ASABE, 2011
"""
_PURIFIER = """\
# vessels in the order the fuel meets them; measure yours
purifier: columns
name: Two columns
vessels:
  - {vessel: A, volume: 60 L}   # the absorbent
  - {vessel: B, volume: 40 L}   # the resin
# when a vessel is filled: esterday new event columns --ask
"""
_IGNORED = """\
# answers that are not finished
.draft-*.json
# a file that a command was stopped at
.esterday-????????
# the sites, which are made of the files anew; the workshop's one shows all that is private
/site/
/public/
"""
_TANK = """\
tank: tank-1
shape: {vertical cylinder: {diameter: 80 cm, height: 120 cm}}   # inner measures; put yours
"""


def files_of(title: str, currency: str, timezone: str) -> Mapping[str, str]:
    """The texts of a new logbook by name."""
    return {
        ".gitignore": _IGNORED,
        "logbook.yaml": _SETTINGS.format(
            title=scalar(title, flow=False), currency=currency, timezone=timezone
        ),
        "materials/materials.yaml": _MATERIALS,
        "columns/columns.yaml": _PURIFIER,
        "tanks/tank-1.yaml": _TANK,
    }
