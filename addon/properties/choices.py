"""Items of the closed choices; identifiers are the brief's words in capitals."""

SHAPE = (
    ("RECTANGLE", "Rectangle", "Four outer walls, two of them along the ridge"),
    ("OUTLINE", "Drawn Outline", "Any plan: each side an eave or a gable of its own"),
)
EDGE = (
    ("EAVE", "Eave", "The roof starts from this wall"),
    ("GABLE", "Gable", "The wall goes on up to the roof"),
    ("GAMBREL", "Gambrel", "An eave whose slope goes on flatter above a break"),
    ("DUTCH_GABLE", "Dutch Gable", "A hip end that ends under a small gable"),
    ("HIGH_WALL", "High Wall", "A slope climbs up to this wall and ends on it"),
)
MOUTHS = (
    ("WALL", "Bearing Wall", "One is taken to stand across the mouth of each wing"),
    ("OPEN", "Open", "Only walls and beams that are stated stand there"),
)
FORM = (
    ("GABLE", "Gable", "Two slopes that meet in one ridge"),
    ("HIP", "Hip", "Four slopes: the ends slope too, and hips run to the corners"),
    ("GAMBREL", "Gambrel", "Two long sides, steep below a break and flatter above it"),
    ("DUTCH_GABLE", "Dutch Gable", "A hip roof with a small gable over either end"),
    ("SHED", "Shed", "One slope, from the south eave up to a high wall to the north"),
    ("OUTLINE", "As Drawn", "Over a drawn outline: as its sides say"),
)
HIP_PLACE = (
    ("ALL", "All Hips", "One brace under each of the four hips"),
    ("SOUTH_WEST", "South-West", "The hip to the south-west corner"),
    ("SOUTH_EAST", "South-East", "The hip to the south-east corner"),
    ("NORTH_EAST", "North-East", "The hip to the north-east corner"),
    ("NORTH_WEST", "North-West", "The hip to the north-west corner"),
)
UNITS = (
    ("IMPERIAL", "Feet, Pounds", "Loads in psf, forces in lb, on every text"),
    ("METRIC", "Metric", "Loads in kPa, forces in kN, on every text"),
)
SURFACE = (
    ("SLOPE", "Slope", "Per square foot of roof surface, as roofing is weighed"),
    ("PLAN", "Plan", "Per square foot of level plan under the roof"),
)
LIVE_REDUCTION = (
    ("NONE", "Not Reduced", "The full roof live load everywhere"),
    ("SLOPE", "By Slope", "Reduced on steep roofs by the slope factor R2 of ASCE 7"),
    (
        "SLOPE_AND_AREA",
        "By Slope and Area",
        "Reduced by slope, and by R1 for each member that supports over 200 sq ft",
    ),
)
RIDGE = (
    (
        "BOARD",
        "Ridge Board",
        "Something for rafters to push against; it carries no roof to the ground, "
        "so ties must hold the push of the rafters",
    ),
    (
        "BEAM",
        "Ridge Beam",
        "Carries half of both slopes to posts at its ends; rafters hang on it and "
        "do not push outward",
    ),
)
DIRECTION = (
    (
        "ACROSS",
        "Across",
        "Beside the rafters from plate to plate: they tie the rafters",
    ),
    ("ALONG", "Along", "Parallel to the ridge: they tie nothing"),
)
OVER_WALLS = (
    (
        "LAPPED",
        "Lapped",
        "Two joists lap over the wall: a hinge there, but still a tie",
    ),
    ("CONTINUOUS", "Continuous", "One joist runs through over the wall"),
)
WING_SIDE = (
    ("SOUTH", "South", "Along the south side"),
    ("EAST", "East", "Along the east side"),
    ("NORTH", "North", "Along the north side"),
    ("WEST", "West", "Along the west side"),
)
SIDE = (
    ("SOUTH", "South", "The slope whose eave is at the roof's corner"),
    ("NORTH", "North", "The slope across the ridge"),
    ("WEST", "West Hip End", "The hip end to the west; hip roofs alone"),
    ("EAST", "East Hip End", "The hip end to the east; hip roofs alone"),
    ("ALL", "All Round", "Over a drawn outline: a line under every plane"),
)
ORIENTATION = (
    ("PLUMB", "Plumb", "On edge, its sides vertical"),
    ("SQUARE", "Square to the Slope", "On edge, its sides square to the rafters"),
)
PLACED = (
    ("FROM_PLATE", "From the Plate", "Plan distance from the plate of the same slope"),
    ("HEIGHT", "Height", "Height above the plate line"),
)
FOOT = (
    ("WALL", "Wall", "A named interior wall"),
    ("CEILING_JOIST", "Ceiling Joists", "Whatever ceiling joist runs nearest"),
    ("BEAM", "Beam", "A named beam"),
    ("POST", "Post", "The head of a named post"),
    ("POINT", "Stated Point", "A point that you vouch for; nothing below is checked"),
    (
        "NEAREST_WALL",
        "Nearest Legal Wall",
        "Each finds the nearest bearing wall that the rule allows: 45 degrees or more, "
        "at most 8 ft unbraced, a lateral brace at mid-length where longer",
    ),
)
OTHERWISE = (
    ("NOTHING", "Nothing", "It has no load path, and says so"),
    ("CEILING_JOIST", "Ceiling Joists", "To see what comes of it"),
    ("BEAM", "Nearest Beam", "The beam nearest to it on plan"),
)
TRUSS_WEBS = (
    ("KING_POST", "King Post", "One post from the peak to the ceiling joist"),
    (
        "KING_POST_AND_STRUTS",
        "King Post and Struts",
        "And a strut from its foot to the purlin, or the middle, of each rafter",
    ),
)
BEAM_PLACE = (
    ("UNDER", "Under the Joists", "Joists lie on it; without joists it stands above"),
    (
        "FLUSH",
        "Among the Joists",
        "Joists are cut and hang in it; without joists it stands clear of the ceiling",
    ),
    ("ABOVE", "Above the Joists", "Joists run on under it and hang from it by straps"),
    (
        "ON_JOISTS",
        "Resting on the Joists",
        "A cross-member: it spreads what stands on it over several joists",
    ),
    ("BELOW_JOISTS", "Bolted Below the Joists", "A cross-member under the joists"),
)
POST_FOOT = (
    ("FOOTING", "Footing", "A footing of its own"),
    ("GIRDER", "Girder", "A girder below, which is not checked"),
    ("NOTHING", "Nothing", "Only floor: there is no load path to the ground"),
)
TIE = (
    ("BOTH", "Ties and Props", "It holds rafters together and keeps them apart"),
    ("PULL_ONLY", "Ties Only", "It can pull but not push"),
)
SLIP = (
    ("NONE", "No Slip", "The joint holds rafter and tie together without give"),
    ("EUROCODE_5", "Eurocode 5", "Each nail gives by the K_ser of Eurocode 5"),
    ("STATED", "Stated", "Each nail gives by a stated stiffness"),
)
FINISH = (
    ("GYPSUM", "Gypsum Board", "Sag limit of a gypsum ceiling"),
    ("PLASTER", "Plaster", "Stricter sag limit of a plaster ceiling"),
    ("NONE", "None", "No finish that could crack"),
)
SNOW = (
    ("GROUND", "Ground Snow", "Ground snow load with its factors"),
    ("ROOF", "Roof Snow", "Roof snow load as the authority states it"),
)
