"""Layout profiles: what a person says of the headings of one maker's sheets."""

from torquary_ingest.profiles.profile import Explained, Profile, ProfileWrong, read_profile, torques_explained

__all__ = ["Explained", "Profile", "ProfileWrong", "read_profile", "torques_explained"]
