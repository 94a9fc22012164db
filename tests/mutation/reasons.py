"""Why no check of form can tell some breaks, by way; only the seal does, or nothing."""

CHOICE = "another number may be meant as well; no form tells a choice from a slip"
NOT_THERE = "what is not there cannot be looked at; a smaller book may be meant"
NOT_ALL = "examples need not try every value and every fact of 'applies to'"
NOT_SAID = "an example names one of the things that a line says, not all"
KNOWLEDGE = "how exact a reading is, what a blank means and how a thing is measured is knowledge, not form"
CITED = "only a person who opens the source can tell the right place"
UNFELT_EXAMPLE = "no case feels an example; another one tries the same line and limits"
UNFELT_SOURCE = "no line cites this source"
UNFELT_WORD = "nothing reads this key"

BY_FORM: dict[str, str] = {
    "table cell, one digit wrong": CHOICE,
    "table cell, point moved": CHOICE,
    "table cell swapped with the next": CHOICE,
    "table rows swapped": CHOICE,
    "table numbers of one cell swapped": CHOICE,
    "factor on the wrong side of one": "a factor of the casing may shrink or grow; " + CHOICE,
    "cap, one digit wrong": CHOICE,
    "verdict one step harder": CHOICE,
    "otherwise milder": CHOICE,
    "verdict one step milder": CHOICE,
    "lines reordered": "both orders read well; no example stands where the two lines overlap",
    "line removed": NOT_THERE,
    "rule deleted": NOT_THERE,
    "table deleted": NOT_THERE,
    "caution or step removed": NOT_SAID,
    "another method ruled out": NOT_SAID,
    "hold weakened to a caution": NOT_SAID,
    "hold removed": NOT_SAID,
    "'applies to' narrowed by a value": NOT_ALL,
    "'applies to' narrowed by a fact": NOT_ALL,
    "'applies to' widened by a fact": NOT_ALL,
    "'applies to' widened by a value": NOT_ALL,
    "listed values, one left out of a line": NOT_ALL,
    "cleared by: another value": "more than one answer may let the hold go",
    "rule in the folder of another stage": "it is heard in the other stage too, only sooner or later",
    "direction turned": "no rule bounds this fact, so nothing contradicts the direction",
    "direction forgotten": "no rule with a verdict bounds this fact, so nothing contradicts it",
    "values from good to bad swapped": "no rule bounds this fact between the two",
    "value of a fact removed": "no rule or table names this value",
    "value of a fact misspelt": "no rule or table names this value",
    "fact removed": "no rule, table or derivation names this fact",
    "range shrunk": "no limit or example lies outside; " + CHOICE,
    "unit of a fact changed": "no rule, table or derivation names this fact in its unit",
    "reading error gone": KNOWLEDGE,
    "reading error, one digit wrong": KNOWLEDGE,
    "missing taken for good": KNOWLEDGE,
    "how to measure lost": KNOWLEDGE,
    "kind of a source changed": CITED,
    "source file removed": UNFELT_SOURCE,
    "table 'applies to' removed": "no other table speaks there; one table for all may be meant",
    "table 'applies to' narrowed": "no number may be meant where the table is silent",
    "table gives another name": "another table gives the number elsewhere",
    "table by another fact": "a row for all hangs on no fact",
    "cover, two words of a list swapped": "which method is the better one is a choice",
    "cover, too much not covered": "an owner may leave to a person what rules could decide; it only holds more",
    "placeholder of no fact": "with the letter more it is the name of another fact",
    "placeholder of another fact": "the sentence still prints a fact; only a reader sees that it is the wrong one",
    "synonym in a sentence": "the word is part of another word of the trade",
    "name of another fact": "the other fact fits the examples too",
    "another source": CITED,
    "place in the source misspelt": "the source lists no places, and this one is cited once",
    "another place in the source": CITED,
    "example removed": UNFELT_EXAMPLE,
    "cover, a key removed": UNFELT_WORD,
}
