"""The layout engine: a document's words or cells in, a reading out.

From words to tables
    lines           words to lines of cells; rows of a sheet    cells: their text and place
    heads           which lines are the head of a table         sheet_heads: in data files
    tables          cuts a page into tables and free lines      onward: tables that go on
    columns         the columns of a table on a page            edges: of a printed spreadsheet
    unfold          lists that go on beside themselves          clipped: names that are cut off
    halves          two samples side by side, each with heads
    centred_rows    cells of one to three lines
    spans           heads over several columns                  merged_heads: of a sheet
    shared_result_heads  one "Result" for all samples
    title_places    titles over tables                          unit_heads: a group over its units
    headings        what a heading says                         group_units: over several columns
    fixed_columns   of text files, one blank apart
    turned          heads that stand on end                     ladders: cells at half height
    stacked_values  results set in two or three lines   not_found_lists
    heads_over_units  heads beside their units                  raised: footnote marks
    key_heads       heads that are rows of keys                 facts_above: keys over a head
    region_titles   parts that hold no results                  tails: what stands below a table

What each part is
    words, tokens   what a head, a heading or a text can be     dates
    content         what the cells of a column look like
    roles           what each column is: head_roles, result_columns, limits_told, earlier_columns
    sheet_roles     the same for data files                     sheet_names, short_names, wide
    sheet_samples   which column tells of the sample            empties: cells that say nothing
    test_codes      numbers that belong to the tests            flags_before: before results

Reading
    rows            a table with one analyte a row              wraps, sample_heads
    same_rows       of a long file, understood once             distinct: texts, asked once
    across          a table with one analyte a column           row_groups, across_samples
    row_kinds       rows that sum up others, blanks             signs_before: far from numbers
    across_columns  what holds results, what serves them        row_samples: whose a result is
    listing         a list of places under a title              sample_list: a list of samples
    grid            places down and days across under a title
    loose           pairs, tables without a head                letters: sentences; ticks: boxes
    told_words      which words of a sentence tell a result
    tick_tables     ticks of several samples
    choices         a mark under PRESENT or ABSENT        statements: ticked sentences
    offered         ticked answers (offers, boxes)        cards: grids of little boxes
    judged          boxes under "Pass" and "Fail"         ticked_places: chosen with boxes
    forms           keys above what was filled in         pitch: typewriter faces
    form_lines      the tests among the keys of a form          numbered: "14 SAMPLE NO."
    captions        "Your result" over each number              corners: a small key over a number
    worded          answers in words: "clear"                   wrapped_keys: over two lines
    quarters        running averages                            isotopes: ratios, no amounts
    on_site         what somebody read with a pocket meter
    other_matrix    tables of soil or milk, left out
    metadata        keys and values; glued_keys                 samples, blocks: whose result it is
    sample_kinds    controls, blanks, duplicates                same_samples: one under two names
    context         what is known at one point of the sheet

From the printed pieces to a result
    build           the result                                  printed: its pieces
    asides          what stands in brackets beside it           nd_words: what "ND" stands for
    draws           first draw, flushed, treated                remarks: how samples were kept
    stated_limits   what "ND" is below, in words of the sheet
    listed_limits   and in a list or a table after the results
    asked           what "Yes" answers                          answer_columns: of such answers
    unit_choice     which unit; basis: as N or as NO3           nondetect: signs, flags, conditions
    page_units      stated for a page; legends: by name         spelled: plain spellings
    codes_told      heads that a legend explains
    open_flags      in columns that nothing explains            astray_flags: where none belong
    doubt           the confidence and the reasons to look      repeats: results printed twice
    doubt_*         of a sheet, its columns, units, samples and limits
    accounts        which lines are told, so that none with a test and a number is lost
    told            what each word was taken for    counted: how many numbers are what
    stranded        numbers with a test's name that are left    names_and_amounts: such texts
    document        the whole file in order               hints: what is known of it before
    unseen          leaves out what a workbook hides
"""

from __future__ import annotations

from .document import read_document

__all__ = ["read_document"]
