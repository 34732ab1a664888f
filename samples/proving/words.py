"""Words that labs print: heads of columns, names of labs and places, dates."""

from __future__ import annotations

import datetime
import random

HEADS: dict[str, tuple[str, ...]] = {
    "number": ("No.", "#", "Item", "Sr. No."),
    "label": (
        "Analyte", "Parameter", "Test", "Analysis", "Constituent", "Contaminant", "Compound",
        "Determination", "Substance", "Tested Parameter", "Analyses", "Component",
    ),
    "text": (
        "Result", "Results", "Your Result", "Found", "Value", "Concentration", "Level Found",
        "Measured", "Reported Value", "Observed Value", "Amount", "Level Detected",
    ),
    "unit": ("Unit", "Units", "UOM", "Units of Measure", "Unit Measure"),
    "flag": ("Qual", "Q", "Flag", "Flags", "Note", "Qualifier", "Data Qualifier", ""),
    "rl": ("RL", "MRL", "PQL", "LOQ", "Reporting Limit", "Report Limit", "Quant. Limit", "EQL"),
    "mdl": ("MDL", "LOD", "DL", "Method Detection Limit"),
    "limit": (
        "MCL", "Limit", "EPA Limit", "Drinking Water Limit", "Max Level", "Guideline", "Standard",
        "Recommended", "Health Standard", "Reg Limit", "Permissible",
    ),
    "range": ("Typical Range", "Range seen", "Desirable Range", "Acceptable Range"),
    "status": ("Status", "Rating", "Exceeds?", "Comment", "Within Limit", "P/F"),
    "method": ("Method", "Test Method", "Method Ref.", "EPA Method", "Procedure"),
    "analyzed": ("Analyzed", "Date Analyzed", "Analysis Date", "Completed"),
    "analyst": ("Analyst", "By", "Tech"),
    "factor": ("DF", "Dilution", "Dil."),
    "cas": ("CAS No.", "CAS Number", "CAS"),
    "previous": ("Previous", "Last Result", "Prior Result", "2025 Result"),
    "uncertainty": ("Uncertainty", "+/-", "2 Sigma", "Counting Error"),
    "id": ("Lab ID", "Sample ID", "Lab No.", "Sample No.", "Lab Sample ID", "Laboratory Number"),
    "point": (
        "Sample Point", "Location", "Client Sample ID", "Sampling Site", "Collected From",
        "Description", "Well ID", "Source", "Field ID",
    ),
    "collected": ("Collected", "Date Collected", "Collection Date", "Sample Date", "Date Sampled"),
    "received": ("Received", "Date Received", "Received at Lab"),
    "reported": ("Reported", "Date Reported", "Report Date", "Issued"),
}  # fmt: skip

SECTIONS = {
    "general": ("General Chemistry", "Wet Chemistry", "Physical Characteristics"),
    "anions": ("Anions by Ion Chromatography", "Anions", "Inorganic Anions"),
    "nutrients": ("Nutrients", "Nitrogen Compounds"),
    "metals": ("Metals", "Metals by ICP-MS", "Trace Elements", "Inorganic Metals"),
    "bacteria": ("Microbiology", "Bacteria", "Bacteriological Analysis"),
    "voc": ("Volatile Organics", "Volatile Organic Compounds", "VOCs by GC/MS"),
    "pfas": ("PFAS", "Per- and Polyfluoroalkyl Substances"),
    "radio": ("Radiochemistry", "Radionuclides"),
}

LABS = (
    "Alder Fork Water Laboratory", "Heronsgate Environmental Laboratories",
    "Marlpit Analytical Services", "Oxbow & Daughters Water Testing",
    "Tamarack County Public Health Laboratory", "Quill Creek Analytical",
    "Sandbar Water Chemistry", "Fenwick Hollow Testing Laboratory",
)  # fmt: skip
POINTS = (
    "Kitchen tap", "Kitchen", "Well head", "Pressure tank", "Barn well", "Outside hydrant",
    "Bathroom sink", "House well", "Basement tap", "Laundry sink", "Well 1", "Well 2", "Well 3",
    "Greenhouse", "Spring box", "Cottage", "Workshop", "Milk house", "North well", "South well",
    "Cabin", "Guest house", "Raw water", "After softener", "Bunkhouse", "Pump house",
)  # fmt: skip
STREETS = ("Heron Lane", "Pike Road", "Mill Street", "Ferry Road", "Granite Ridge", "School Road")
TOWNS = ("Nettleford", "Quarry Hollow", "Lower Spruce")
PEOPLE = ("R. Aldenhoff", "J. Wyndham", "P. Okonjo", "L. Mbeki", "S. Halvorsen", "D. Farrow",
          "K. Asher", "T. Brandvold", "M. Lindqvist")  # fmt: skip

DATES = ("%m/%d/%Y", "%m/%d/%y", "%-m/%-d/%Y", "%d-%b-%Y", "%d-%b-%y", "%B %-d, %Y", "%Y-%m-%d",
         "%b %d, %Y", "%m-%d-%Y")  # fmt: skip
TIMES = ("%H:%M", "%-I:%M %p", "%H%M", "")


def address(rng: random.Random) -> str:
    """Return an invented address."""
    return f"{rng.randint(2, 299)} {rng.choice(STREETS)}, {rng.choice(TOWNS)}"


def day(rng: random.Random) -> datetime.datetime:
    """Return a day and time of sampling in 2026."""
    start = datetime.datetime(2026, 1, 5, 7, 0, tzinfo=datetime.UTC)
    return start + datetime.timedelta(days=rng.randint(0, 320), minutes=5 * rng.randint(0, 120))
