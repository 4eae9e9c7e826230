"""Layout profiles: what a person says of the headings of one maker's sheets."""

from torquary_ingest.profiles.profile import Explained, Profile, ProfileWrong, read_profile

__all__ = ["Explained", "Profile", "ProfileWrong", "read_profile"]
