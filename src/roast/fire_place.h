// SPDX-License-Identifier: MIT
#pragma once

#include "rig/rig.h"

namespace evenspit {

/// The cooker with its coals laid anew within the room that its fire boxes take up together, as deep as the
/// shallowest of them: under the rod in the middle half of that room, banked in the quarter at the back or
/// the front, or in a quarter at either side; all of its length along the rod.
///
/// Fires that are no boxes stay where they are; a cooker without fire boxes is not changed. A second bank is
/// a surface more, at the end, so that the others keep their numbers; what is left over of several boxes is
/// taken out.
Cooker with_coals_at(Cooker cooker, CoalPlace place);

}  // namespace evenspit
