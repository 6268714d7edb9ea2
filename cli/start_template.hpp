// What `lowspot start` writes: a made-up yard that runs at once, to be overwritten line by line.
#pragma once

namespace lowspot::cli {

inline constexpr const char* start_site_text =
    R"toml(# A yard to begin from. It runs as it stands: lowspot compare . --out answer
# Replace one thing after another by what you measured. Whatever you leave out gets a usual figure, and the
# answer lists every figure that was assumed.
# Bare numbers are coordinates and elevations: x to the east, y to the north. All else carries its unit, in quotes.
# What you are not sure of may be three values: ["low", "likely", "high"].

[site]
name    = "Example yard"
units   = "ft"
outline = [[0, 0], [60, 0], [60, 40], [0, 40]]    # what is computed, corner by corner

[ground]
levels = "levels.csv"       # shots as x,y,elevation: the corners, each edge, each hollow and what lies round it

[edges]
default = "open"            # water may leave over the limits; "wall" where a curb or a garden wall holds it
north   = "wall"

[[soil]]                    # dig one hole: how deep is the loose topsoil, what lies under it?
name        = "yard"
topsoil     = { texture = "silt loam", depth = "7 in", conductivity = ["0.05 in/hr", "0.2 in/hr", "0.6 in/hr"] }
tight_layer = { conductivity = ["0.003 in/hr", "0.02 in/hr", "0.1 in/hr"] }   # or let water fall in a hole and name its
# hole_test = "holes.csv"    # table here in place of that line: hole,diameter_in,depth_in,time_min,water_depth_in,presoak
start       = "moist"       # how wet it is before the rain: "drained", "moist" or "wet"

[[area]]                    # where no area lies there is lawn; `lowspot catalog covers` lists the kinds
name    = "patio"
kind    = "concrete"
outline = [[14, 24], [30, 24], [30, 34], [14, 34]]
surface = [[14, 34, 100.45], [30, 34, 100.45], [22, 24, 100.20]]    # three shots on a slab make its plane

[[area]]                    # a piece of lawn gets a name when the target is to speak of it
name    = "back lawn"
kind    = "lawn"
rectangle = [14, 11, 20, 12]    # x and y of the south-west corner, width, depth

[[area]]                    # an area with plants is a bed: its moisture is followed for weeks
name    = "long bed"
kind    = "mulched bed"
outline = [[8, 20], [12, 20], [12, 34], [8, 34]]
plants  = { root_depth = "12 in", wet_feet = "moderate" }

[[building]]                # roof: the part of the roof that drains to this downspout
name    = "house"
outline = [[8, 34], [44, 34], [44, 40], [8, 40]]
downspouts = [ { at = [9, 33.5], roof = "300 ft2", to = "ground" }, { at = [43, 33.5], roof = "350 ft2", to = "ground" } ]

[storm]
depth    = "2 in"
duration = "6 hr"
pattern  = "nested"         # light rain with one hard burst; "uniform" rains evenly
dry      = "5 d"            # how long to watch the yard dry
reference_et = "0.15 in/d"  # what sun and plants draw: 0.02 in winter, 0.15 to 0.25 in summer

[target]                    # what "fixed" means: agree on it with the owner
standing_depth = "0.25 in"
clear_within   = "24 hr"    # after the rain ends
areas          = ["patio", "back lawn", "long bed"]

[[gauge]]                   # the depth of water here is recorded
name = "low corner"
at   = [22, 18]

[[design]]                  # one set of works; write as many as you like. The yard as it is always runs too.
name = "drain to the fence"

[[design.run]]              # from head to foot, through the lowest point of the lawn
name   = "lawn leg"
path   = [[14, 20], [22, 18], [31, 18]]
pipe   = "4 in corrugated, slotted"    # `lowspot catalog pipes`; "slotted" takes water in, "solid" only carries
trench = { width = "12 in", depth = "16 in" }    # depth at the head
fall   = "1 %"
stone  = "No. 57, rounded, washed"
fabric = { kind = "nonwoven 6 oz", clogging = 1 }    # clogging = 10 tries it years later
cap    = { kind = "open stone" }       # what lies over the stone decides whether a puddle gets in
to     = "bend"

[[design.fitting]]
name = "bend"
at   = [31, 18]

[[design.run]]
name = "carrier"
path = [[31, 18], [60, 2]]
pipe = "4 in corrugated, solid"
fall = "3 %"
from = "bend"
to   = "fence outlet"

[[design.outlet]]
name = "fence outlet"
kind = "daylight"           # the pipe ends in open air
at   = [60, 2]

[tune]                      # what `lowspot tune` may vary to find the smallest drain that does it
vary = { pipe = ["3 in corrugated, slotted", "4 in corrugated, slotted"], depth = ["14 in", "16 in", "18 in"] }
)toml";

inline constexpr const char* start_levels_text = R"csv(x,y,elevation,note
0,0,99.95,south-west corner
20,0,99.60,
40,0,98.80,
60,0,97.55,south-east corner
0,10,100.00,
20,10,99.95,lawn south of the hollow
34,10,99.80,where the hollow spills
46,10,98.90,
56,4,98.60,top of the bank
60,2,97.60,foot of the bank: the outlet
60,10,98.75,
0,20,100.15,
14,21,99.90,
22,18,99.50,lowest point of the lawn
30,21,99.85,
42,20,99.80,
60,20,99.20,
0,34,100.60,
8,34,100.50,corner of the house
44,34,100.50,corner of the house
60,30,99.80,
0,40,100.80,north-west corner
60,40,100.40,north-east corner
)csv";

} // namespace lowspot::cli
