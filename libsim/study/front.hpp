// The curve of what works take against what they do.
#pragma once
#include <vector>

namespace lowspot::study {

struct Tried;

// Marks the combinations that no smaller one equals: in order of size, each that stands shorter than all
// before it by a quarter of an hour or 2 % at least. Those never run are not on it.
void mark_front(std::vector<Tried>& tried);

// The place in `tried` where the curve bends most: of the front, with size and hours each scaled to 0..1, the
// point farthest below the straight line from its first to its last (Satopaa et al. 2011). -1 with fewer than
// three points, or where none lies a tenth below that line.
int knee_of(const std::vector<Tried>& tried);

// Whether cost tells which combination is smaller: each that can be built has one, of as many lines without a
// price. Sums that leave out different items cannot be compared.
bool priced_alike(const std::vector<Tried>& tried);
// What the curve is drawn against: cost where every combination has one, else what is dug [m3].
double size_of(const Tried& tried);

} // namespace lowspot::study
