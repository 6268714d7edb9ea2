// What feet, wheels and rain have done to a topsoil: compaction and a crust.
#pragma once
#include <lowspot/site/table_reader.hpp>

namespace lowspot::site {

// `compaction`, a factor on the conductivity: 0.1 (0.01 to 0.3) a new graded lot, 0.3 (0.1 to 0.6) a lawn of
// ten years and more, 1 undisturbed or deeply loosened (after Pitt et al. 1999, Gregory et al. 2006,
// Woltemade 2010). `table` holds the key. Not used, with a warning, where a hole test measured the
// conductivity as it is. soil.conductivity must be known; `of_texture`: it is the usual one of a texture,
// whose band already spans compaction, and what is listed as assumed in `topsoil` is the compacted figure.
void read_compaction(const TableReader& table, const TableReader& topsoil, Soil& soil, bool measured,
                     bool of_texture);

// What compaction takes of the pores that drain, where `drainable_porosity` was not given in `topsoil`: a
// fifth of them, at least 0.01 and at most 0.05, at a factor of 0.1 and below, less in the logarithm of the
// factor up to 1; 0.01 is left. Replaces what is listed as assumed. `table` holds `compaction`.
void pack_pores(const TableReader& table, const TableReader& topsoil, Soil& soil);

// `crust` = { conductivity, thickness }: a layer at the ground in series with the soil.
void read_crust(const TableReader& table, Soil& soil);

} // namespace lowspot::site
