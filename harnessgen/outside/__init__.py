"""Programs that are not ours: each is asked within a stated time and for a bounded answer, and ended where it hangs.

What such a program is to work on comes in; the bytes of its answer go out, or the reason why there is none.
"""
