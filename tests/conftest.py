"""What all tests share."""

from hypothesis import settings

# A busy machine is no fault: how long an example takes is the business of the speed checks.
settings.register_profile("salebook", deadline=None)
settings.load_profile("salebook")
