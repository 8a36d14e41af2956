// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>

namespace evenspit::body {

/// How limbs are held. The first two are a bird's, the last two a pig's.
enum class Trussing : std::uint8_t {
    tight,      ///< legs and wings tied
    legs_tied,  ///< wings free
    loose,      ///< all limbs free
    folded,     ///< legs folded over the belly and tied there
    stretched,  ///< legs stretched fore and aft and tied to the rod
};

}  // namespace evenspit::body
