//! The baby in its own frame (`BodyFrame`): head up, back to the right, breech at y = 140. Our own drawing.

/// A trunk that stays open: its fill, its sides, its dotted end.
pub(super) type Open = (&'static str, &'static str, &'static str);

pub(super) const BACK_FULL: &str = "M 31 18 C 33 29 39 35 44 46 C 60 78 60 114 43 140";
pub(super) const BACK_HEAD: &str = "M 31 18 C 33 29 39 35 44 46 C 54 68 57 88 54 110";
pub(super) const BACK_SEAT: &str = "M 43 140 C 56 118 58 86 53 58";
/// A crescent: thick where the hand lay.
pub(super) const BACK_FELT: &str = "M 31 18 C 33 29 39 35 44 46 C 60 78 60 114 43 140 C 54 113 52 82 39 50 C 35 40 32 31 \
    31 18 Z";
pub(super) const CHEST: &str = "M -14 34 C -30 50 -38 88 -29 122";
pub(super) const TRUNK: &str = "M 31 18 C 33 29 40 36 46 50 C 60 80 60 114 43 140 L 43 146 L -24 152 C -40 104 -40 62 \
    -24 26 Z";
pub(super) const TRUNK_BROAD: &str = "M 31 18 C 33 29 40 36 46 50 C 60 80 60 112 43 138 L 30 148 L -30 148 L -33 138 C -50 \
    112 -54 82 -46 52 C -40 38 -32 30 -30 20 Z";
pub(super) const TRUNK_PLAIN: &str = "M 25 25 C 38 44 46 62 46 84 C 46 106 40 124 29 146 L -29 146 C -40 124 -46 106 -46 84 \
    C -46 62 -38 44 -25 25 Z";
pub(super) const PLAIN_SIDES: &str = "M 25 25 C 38 44 46 62 46 84 C 46 106 40 124 30 136 M -25 25 C -38 44 -46 62 -46 84 C \
    -46 106 -40 124 -30 136";
/// Towards a pole that was not felt the trunk stays open and ends in dots: fill, sides, end.
pub(super) const OPEN_FROM_HEAD: Open = (
    "M 25 25 C 38 44 46 62 46 84 C 46 94 45 100 43 106 C 20 116 -20 116 -43 106 C -45 100 \
    -46 94 -46 84 C -46 62 -38 44 -25 25 Z",
    "M 25 25 C 38 44 46 62 46 84 C 46 94 45 100 43 106 M -25 25 C -38 44 -46 62 -46 84 C \
    -46 94 -45 100 -43 106",
    "M 43 106 C 20 116 -20 116 -43 106",
);
pub(super) const OPEN_FROM_SEAT: Open = (
    "M 24 146 C 34 128 46 106 46 84 C 46 72 45 64 43 56 C 20 46 -20 46 -43 56 C -45 64 -46 \
    72 -46 84 C -46 106 -34 128 -24 146 Z",
    "M 32 122 C 40 110 46 100 46 84 C 46 72 45 64 43 56 M -32 122 C -40 110 -46 100 -46 84 \
    C -46 72 -45 64 -43 56",
    "M 43 56 C 20 46 -20 46 -43 56",
);
pub(super) const SIDE_FROM_HEAD: Open = (
    "M 31 18 C 33 29 39 35 44 46 C 54 68 57 88 54 110 C 30 120 -14 120 -34 110 C -40 88 -36 \
    60 -24 26 Z",
    "M -14 34 C -30 50 -38 84 -34 110",
    "M 54 110 C 30 120 -14 120 -34 110",
);
pub(super) const SIDE_FROM_SEAT: Open = (
    "M 43 140 C 56 118 58 86 53 58 C 30 48 -14 48 -34 58 C -38 84 -36 110 -26 152 Z",
    "M -29 122 C -36 100 -38 80 -34 58",
    "M 53 58 C 30 48 -14 48 -34 58",
);
/// Neither pole felt: the same towards both ends.
pub(super) const BAND: Open = (
    "M 40 35 C 45 50 46 60 46 70 C 46 80 45 90 40 105 C 20 113 -20 113 -40 105 C -45 90 \
    -46 80 -46 70 C -46 60 -45 50 -40 35 C -20 27 20 27 40 35 Z",
    "M 40 35 C 45 50 46 60 46 70 C 46 80 45 90 40 105 M -40 35 C -45 50 -46 60 -46 70 C \
    -46 80 -45 90 -40 105",
    "M 40 105 C 20 113 -20 113 -40 105 M -40 35 C -20 27 20 27 40 35",
);
/// Seen from the side.
pub(super) const LEG: &str = "M -14 116 C -22 104 -32 90 -40 78 C -46 71 -57 73 -58 84 C -59 102 -57 120 -54 134 C \
    -56 144 -65 150 -66 157 C -66 163 -58 163 -52 160 C -46 157 -40 153 -39 147 C -38 142 \
    -40 138 -40 134 C -39 122 -37 113 -33 106 C -26 118 -20 134 -8 152";
pub(super) const ARM: &str = "M 30 62 C 24 80 6 97 -8 99 C -18 100 -22 92 -25 85 C -32 74 -38 64 -42 54 C -50 50 -51 \
    36 -41 35 C -32 34 -30 42 -32 49 C -27 60 -20 70 -10 78 C 0 74 8 64 14 52";
/// Seen from the front, one side; mirrored for the other.
pub(super) const LEG_FRONT: &str = "M 36 138 C 50 126 58 106 54 92 C 51 84 42 83 37 89 C 30 100 20 112 6 122 C -2 126 -4 \
    133 2 136 C 8 139 14 134 20 131 C 27 126 33 120 38 112 C 36 122 30 132 22 140";
pub(super) const ARM_FRONT: &str = "M 44 48 C 52 58 54 72 49 81 C 44 88 36 84 33 78 C 27 70 20 64 14 60 C 6 60 2 50 8 46 C \
    14 42 20 46 22 52 C 28 56 33 60 37 65 C 38 60 36 54 33 48";
pub(super) const SPINE: &str = "M 7 54 C 13 72 13 104 7 132";
pub(super) const SPINE_FOLD: &str = "M -7 54 C -3 74 -3 104 -7 130";
pub(super) const NAPE: &str = "M -12 20 C -6 27 6 27 12 20";
pub(super) const PEEPS: &str = "M -47 66 C -58 66 -62 80 -52 88 M -45 112 C -57 116 -60 132 -47 138 M -36 138 C -44 \
    146 -40 160 -28 156";
pub(super) const FACE: &str = "M -35.4 -7 C -36 -3 -41.5 0 -41 4 C -40.6 8 -37 7 -35.6 10 C -37 14 -35.5 15.5 -32.7 \
    15 M -28 -3 C -26 3 -20 3 -18 -3 M -2 10 C 2 15 11 12 11 3 C 11 -1 7 -2 5 1";
pub(super) const FACE_FRONT: &str = "M -20 0 C -18 5 -10 5 -8 0 M 8 0 C 10 5 18 5 20 0 M -3 7 C -4 12 4 12 3 7 M -6 19 C -3 \
    22 3 22 6 19";
pub(super) const SEAT: &str = "M 31 -16 C 36 -2 31 16 20 25 C 12 31 5 31 0 26 C -4 32 -14 32 -22 25 C -31 16 -36 0 \
    -29 -14";
pub(super) const SEAT_CLOSED: &str = "M 31 -16 C 36 -2 31 16 20 25 C 12 31 5 31 0 26 C -4 32 -14 32 -22 25 C -31 16 -36 0 \
    -29 -14 C -24 -24 -12 -29 -2 -25 C 10 -30 24 -26 31 -16 Z";
pub(super) const SEAT_SOFT: &str =
    "M 0 26 C 0 21 -1 16 -2 12 M 17 20 C 24 12 27 2 25 -7 M -18 19 C -26 11 -28 1 -23 -7";
pub(super) const SEAT_SIDE: &str =
    "M 43 0 C 40 13 34 26 20 30 C 11 33 4 31 0 26 C -5 31 -14 30 -20 24";
pub(super) const SEAT_SIDE_FILL: &str =
    "M 43 0 C 40 13 34 26 20 30 C 11 33 4 31 0 26 C -5 31 -14 30 -20 24 L -26 0 Z";
pub(super) const SEAT_SIDE_SOFT: &str = "M 0 26 C -1 21 -1 17 -3 13 M 17 24 C 26 19 31 11 32 2";
/// Both flanks and the back, for a baby that faces the front or turns its back to it.
pub(super) const FLANKS: &str = "M -30 20 C -32 30 -40 38 -46 52 C -54 82 -50 112 -33 136 M 31 18 C 33 29 39 35 44 46 C \
    60 78 60 114 43 140";
