"""Motion of the whole vehicle on its legs: many landings at once, landings on the leading axis.

Ground frame: z along the normal of the ground, x along its fall line as seen by the travel of the
vehicle, origin where the lowest pad touches. Body frame: origin at the centre of gravity, z along
the vehicle axis, x toward the direction of travel.
"""
